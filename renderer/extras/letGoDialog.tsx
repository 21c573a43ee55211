import { useState } from 'react'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { TextArea } from '../parts/field.tsx'
import { Form } from '../parts/form.tsx'
import { useAct } from '../shell/api.ts'

/** Lets something go unbilled, with the reason that stays beside it. */
export function LetGoDialog(props: {
  readonly title: string
  readonly letGo: (reason: string) => Promise<unknown>
  readonly onClose: () => void
}) {
  const [reason, setReason] = useState('')
  const act = useAct(() => props.letGo(reason), props.onClose)
  return (
    <Dialog title={props.title} onClose={props.onClose}>
      <Form onSubmit={() => act.run()} refusal={act.refusal}>
        <TextArea label="Why" name="reason" rows={2} value={reason} onChange={setReason} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={act.busy}>
            Let it go
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
