import { useState } from 'react'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Confirm, Dialog } from '../parts/dialog.tsx'
import { TextArea } from '../parts/field.tsx'
import { Form } from '../parts/form.tsx'
import { countText, numberText } from '../parts/format.ts'
import type { BenchQueue } from './benchQueue.ts'
import type { TakePage } from './turningState.ts'

/** Asks once more where the turn is not closed. */
export function EndDialog({ queue, onClose }: { readonly queue: BenchQueue; readonly onClose: () => void }) {
  const { framesPerTurn, nextMark, missing } = queue.ahead
  const lacking = framesPerTurn - Math.min(nextMark, framesPerTurn) + missing.length
  return (
    <Confirm
      title="End the take here?"
      sentence={`The turn is not closed: ${countText(lacking, 'frame')} of ${numberText(framesPerTurn)} are lacking. A take that has ended cannot go on.`}
      act="End the take"
      onConfirm={() => {
        queue.act({ kind: 'end' })
        onClose()
      }}
      onClose={onClose}
    />
  )
}

/** A few words about the take, kept with it. */
export function NoteDialog(props: {
  readonly page: TakePage
  readonly queue: BenchQueue
  readonly onClose: () => void
}) {
  const [note, setNote] = useState(props.page.take.note ?? '')
  return (
    <Dialog title="A note to this take" onClose={props.onClose}>
      <Form
        onSubmit={() => {
          props.queue.act({ kind: 'note', note: note.trim() || null })
          props.onClose()
        }}
      >
        <TextArea label="Note" name="note" value={note} onChange={setNote} rows={4} />
        <ButtonRow>
          <Button large type="submit" kind="main">
            Keep the note
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
