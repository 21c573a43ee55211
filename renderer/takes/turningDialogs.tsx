import { useState } from 'react'
import { useNavigate } from 'react-router'
import { type FaultKind, faultKinds } from '../../main/trade/takes.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Confirm, Dialog } from '../parts/dialog.tsx'
import { CheckField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { countText, numberText } from '../parts/format.ts'
import { api, useAct } from '../shell/api.ts'
import { thisDevice } from './benchDevice.ts'
import type { BenchQueue } from './benchQueue.ts'
import css from './turning.module.css'
import type { TakePage } from './turningState.ts'

interface OverTake {
  readonly page: TakePage
  readonly queue: BenchQueue
  readonly onClose: () => void
}

/** One press says what went wrong; it may void the frame, or start the take again. */
export function FaultDialog({ page, queue, onClose }: OverTake) {
  const takeId = page.take.id
  // The frame it was opened at: a press of the remote meanwhile is another frame.
  const [frame] = useState(queue.ahead.lastGood ?? null)
  const [isVoid, setVoid] = useState(false)
  const [kind, setKind] = useState<FaultKind>()
  const navigate = useNavigate()
  const write = (fault: FaultKind, isVoid: boolean) =>
    queue.act({ kind: 'fault', fault, frame, note: null, isVoid })
  const again = useAct(
    async (kind: FaultKind) => {
      write(kind, false)
      await queue.whenSent()
      return api.takes.again.mutate({ takeId, reason: kind, holder: thisDevice() })
    },
    ({ takeId: next }) => navigate(`/takes/${next}`, { replace: true }),
  )
  const { refusal } = again
  return (
    <Dialog title={frame === null ? 'A fault' : `A fault at frame ${frame}`} onClose={onClose} wide>
      <div className={css.kinds}>
        {faultKinds.map((one) => (
          <button
            key={one}
            type="button"
            className={css.button}
            aria-pressed={kind === one}
            onClick={() => setKind(one)}
          >
            {one}
          </button>
        ))}
      </div>
      {frame === null ? null : (
        <CheckField label={`Make frame ${frame} void`} checked={isVoid} onChange={setVoid} />
      )}
      {refusal ? <FormRefusal sentence={refusal.sentence} /> : null}
      <ButtonRow>
        <Button
          large
          kind="main"
          disabled={kind === undefined || again.busy}
          onClick={() => {
            if (!kind) return
            write(kind, isVoid)
            onClose()
          }}
        >
          Write it down
        </Button>
        <Button
          large
          disabled={kind === undefined || queue.isCut}
          busy={again.busy}
          onClick={() => kind && again.run(kind)}
        >
          Reject the take and start again
        </Button>
      </ButtonRow>
    </Dialog>
  )
}

/** Going back makes every frame from the mark on void. */
export function BackDialog({ page, queue, onClose }: OverTake) {
  const { nextMark } = queue.ahead
  const [mark, setMark] = useState<number | null>(nextMark)
  const [isUnfit, setUnfit] = useState(false)
  const fits = mark !== null && mark >= 1 && mark <= nextMark
  const reading = mark === null ? undefined : page.marksMm[(mark - 1) % page.marksMm.length]
  const come = `The take has come to mark ${numberText(nextMark)}.`
  return (
    <Dialog title="Back to a mark" onClose={onClose}>
      <Form
        onSubmit={() => {
          if (!fits) return setUnfit(true)
          queue.act({ kind: 'back', mark: mark - 1 })
          onClose()
        }}
      >
        <NumberField
          label="Mark"
          name="mark"
          value={mark}
          onChange={setMark}
          hint={reading === undefined ? undefined : `Turn the platter back to ${numberText(reading, 4)} mm.`}
          refusal={isUnfit && !fits ? `${come} Go back to one from 1 to ${numberText(nextMark)}.` : undefined}
        />
        <p>
          {fits
            ? 'Every frame from there on becomes void and is shot again. Its files stay on the card.'
            : come}
        </p>
        <ButtonRow>
          <Button large kind="main" type="submit">
            Go back
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** Asks once more where the turn is not closed. */
export function EndDialog({ queue, onClose }: OverTake) {
  const { framesPerTurn, nextMark, missing } = queue.ahead
  const lacking = framesPerTurn - Math.min(nextMark, framesPerTurn) + missing.length
  return (
    <Confirm
      title="End the take here?"
      sentence={`The turn is not closed: ${countText(lacking, 'frame')} of ${numberText(framesPerTurn)} are lacking. A take that has ended cannot go on.`}
      act="End the take"
      busy={false}
      refusal={undefined}
      onConfirm={() => {
        queue.act({ kind: 'end' })
        onClose()
      }}
      onClose={onClose}
    />
  )
}
