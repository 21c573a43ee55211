import { addDays } from '../../main/trade/calendar.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { DateField, TextArea } from '../parts/field.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { Form } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'

interface DialogProps {
  readonly job: { readonly jobId: number; readonly number: string; readonly title: string }
  readonly onClose: () => void
}

/** Common practice, no published source: a job is looked at again after a week. */
const usualHoldDays = 7

/** Puts a job on hold, with a reason and until a day. */
export function HoldDialog({ job, onClose, today }: DialogProps & { readonly today: string }) {
  const say = useNotice()
  const { values, set } = useDraft({ reason: '', until: addDays(today, usualHoldDays) })
  const hold = useAct(
    () => api.jobs.hold.mutate({ jobId: job.jobId, ...values }),
    () => {
      say(`${job.title} is on hold.`)
      onClose()
    },
  )
  return (
    <Dialog title={`Put ${job.title} on hold`} onClose={onClose}>
      <Form onSubmit={() => hold.run()} refusal={hold.refusal}>
        <TextArea label="Why" name="reason" rows={2} value={values.reason} onChange={set('reason')} />
        <DateField
          label="Until"
          name="until"
          min={today}
          hint="On this day it is yours again; nothing is released by itself."
          value={values.until}
          onChange={set('until')}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={hold.busy}>
            Put on hold
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** Writes a job down as lost: why, and the price it was lost at. */
export function LoseDialog({ job, onClose, currency }: DialogProps & { readonly currency: string }) {
  const say = useNotice()
  const { values, set } = useDraft<{ reason: string; priceMinor: number | null }>({
    reason: '',
    priceMinor: null,
  })
  const lose = useAct(
    () => api.jobs.lose.mutate({ jobId: job.jobId, ...values }),
    () => {
      say(`${job.title} is written down as lost.`)
      onClose()
    },
  )
  return (
    <Dialog title={`${job.title} is lost`} onClose={onClose}>
      <Form onSubmit={() => lose.run()} refusal={lose.refusal}>
        <TextArea label="Why" name="reason" rows={2} value={values.reason} onChange={set('reason')} />
        <MoneyField
          label="The price that won"
          name="priceMinor"
          currency={currency}
          hint="Empty where nobody said."
          value={values.priceMinor}
          onChange={set('priceMinor')}
        />
        <ButtonRow>
          <Button type="submit" kind="grave" busy={lose.busy}>
            Write down as lost
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** Cancels a job, with a reason. */
export function CancelDialog({ job, onClose }: DialogProps) {
  const say = useNotice()
  const { values, set } = useDraft({ reason: '' })
  const cancel = useAct(
    () => api.jobs.cancel.mutate({ jobId: job.jobId, ...values }),
    () => {
      say(`${job.title} is cancelled.`)
      onClose()
    },
  )
  return (
    <Dialog title={`Cancel ${job.title}?`} onClose={onClose}>
      <Form onSubmit={() => cancel.run()} refusal={cancel.refusal}>
        <p>
          Its bookings to come are freed. Samples stay on the shelf until they go back, and what was invoiced
          stays in the books. You can take the job up again.
        </p>
        <TextArea label="Why" name="reason" rows={2} value={values.reason} onChange={set('reason')} />
        <ButtonRow>
          <Button type="submit" kind="grave" busy={cancel.busy}>
            Cancel the job
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
