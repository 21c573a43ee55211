import type { Answers } from '../../main/api/types.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { CheckField, DateField, TextArea, TextField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'

export type Right = Answers['usageRights']['ofJob'][number]

/** A right of use is written down or, while it is only proposed, changed. */
export function RightDialog(props: {
  readonly jobId: number
  readonly right?: Right | undefined
  readonly onClose: () => void
}) {
  const { jobId, right, onClose } = props
  const say = useNotice()
  const { values, set } = useDraft({
    media: right?.media ?? '',
    territory: right?.territory ?? '',
    fromDay: right?.fromDay ?? '',
    toDay: right?.toDay ?? '',
    passesOnPayment: right?.passesOnPayment ?? true,
  })
  const keep = useAct(
    async () => {
      const typed = { ...values, fromDay: values.fromDay || null, toDay: values.toDay || null }
      if (right) await api.usageRights.change.mutate({ rightId: right.id, right: typed })
      else await api.usageRights.add.mutate({ jobId, right: typed })
    },
    () => {
      say(right ? 'The right is changed.' : 'The right is written down as proposed.')
      onClose()
    },
  )
  return (
    <Dialog title={right ? 'Change the right of use' : 'Add a right of use'} onClose={onClose}>
      <Form onSubmit={() => keep.run()} refusal={keep.refusal}>
        <TextField
          label="What the pictures may be used in"
          name="media"
          width="wide"
          placeholder="Own web shop and its newsletters"
          value={values.media}
          onChange={set('media')}
        />
        <TextField
          label="Where"
          name="territory"
          width="wide"
          placeholder="Europe"
          value={values.territory}
          onChange={set('territory')}
        />
        <FieldLine>
          <DateField
            label="From"
            name="fromDay"
            width="narrow"
            hint="Empty: from the start."
            value={values.fromDay}
            onChange={set('fromDay')}
          />
          <DateField
            label="Last day"
            name="toDay"
            width="narrow"
            hint="Empty: without end."
            value={values.toDay}
            onChange={set('toDay')}
          />
        </FieldLine>
        <CheckField
          label="Passes to the client once the invoice is paid"
          name="passesOnPayment"
          checked={values.passesOnPayment}
          onChange={set('passesOnPayment')}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={keep.busy}>
            {right ? 'Keep the change' : 'Add the right'}
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** Writes the client's yes to one right down, where no quote carries it. */
export function AgreeDialog({ right, onClose }: { readonly right: Right; readonly onClose: () => void }) {
  const say = useNotice()
  const { values, set } = useDraft({ by: '' })
  const agree = useAct(
    () => api.usageRights.agree.mutate({ rightId: right.id, ...values }),
    () => {
      say('The right is agreed.')
      onClose()
    },
  )
  return (
    <Dialog title={`The client agreed: ${right.media}`} onClose={onClose}>
      <Form onSubmit={() => agree.run()} refusal={agree.refusal}>
        <p>From here on it stays as it is, and stands on the invoices and deliveries that follow.</p>
        <TextField
          label="Who said yes, and how"
          name="by"
          width="wide"
          value={values.by}
          onChange={set('by')}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={agree.busy}>
            Write down the yes
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** Withdraws an agreed right. */
export function WithdrawDialog({ right, onClose }: { readonly right: Right; readonly onClose: () => void }) {
  const say = useNotice()
  const { values, set } = useDraft({ reason: '' })
  const withdraw = useAct(
    () => api.usageRights.withdraw.mutate({ rightId: right.id, ...values }),
    () => {
      say('The right is withdrawn.')
      onClose()
    },
  )
  return (
    <Dialog title={`Withdraw: ${right.media}?`} onClose={onClose}>
      <Form onSubmit={() => withdraw.run()} refusal={withdraw.refusal}>
        <p>Papers that went out keep naming it. Tell the client too; nothing is sent from here.</p>
        <TextArea label="Why" name="reason" rows={2} value={values.reason} onChange={set('reason')} />
        <ButtonRow>
          <Button type="submit" kind="grave" busy={withdraw.busy}>
            Withdraw the right
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
