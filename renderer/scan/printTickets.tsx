import { useState } from 'react'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { SelectField } from '../parts/field.tsx'
import { Form } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'

type Kind = 'ticket' | 'slate A5' | 'slate A4'

const kinds: readonly { readonly value: Kind; readonly label: string }[] = [
  { value: 'ticket', label: 'Tickets, A6' },
  { value: 'slate A5', label: 'Slates, A5' },
  { value: 'slate A4', label: 'Slates, A4' },
]

/** Opens the printing of tickets: of the spins that are chosen, or of the whole job. */
export function TicketsButton(props: { readonly jobId: number; readonly shootIds: readonly number[] }) {
  const [isOpen, setOpen] = useState(false)
  return (
    <>
      <Button onClick={() => setOpen(true)}>Tickets</Button>
      {isOpen ? <TicketsDialog {...props} onClose={() => setOpen(false)} /> : null}
    </>
  )
}

function TicketsDialog(props: {
  readonly jobId: number
  readonly shootIds: readonly number[]
  readonly onClose: () => void
}) {
  const { jobId, shootIds } = props
  const say = useNotice()
  const [kind, setKind] = useState<Kind>('ticket')
  const of = shootIds.length > 0 ? { shootIds: [...shootIds] } : { jobId }
  const print = useAct(
    () =>
      kind === 'ticket'
        ? api.prints.tickets.mutate({ of })
        : api.prints.slates.mutate({ of, paper: kind === 'slate A5' ? 'A5' : 'A4' }),
    ({ paperId, printed }) => {
      openPaper(paperId)
      say(`${countText(printed, kind === 'ticket' ? 'ticket' : 'slate')} to print.`)
      props.onClose()
    },
  )
  const whose = shootIds.length > 0 ? countText(shootIds.length, 'spin') : 'the whole job'
  return (
    <Dialog title={`Tickets for ${whose}`} onClose={props.onClose}>
      <Form onSubmit={() => print.run()} refusal={print.refusal}>
        <SelectField
          label="Print"
          value={kind}
          options={kinds}
          onChange={(value) => setKind(value as Kind)}
        />
        <p className={words.quiet}>
          {kind === 'ticket'
            ? 'A ticket goes with the sample and is photographed before the first mark of a take; where arriving files count the frames, before the take is started. Its code is 90 mm wide: print at 100 %.'
            : 'A slate stands on the set for a photograph before the first mark of a take; where arriving files count the frames, before the take is started. Its code is as wide as the sheet.'}
        </p>
        <ButtonRow>
          <Button type="submit" kind="main" busy={print.busy}>
            Print them
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** Opens the printing of labels: of the samples that are chosen, or of the whole job. */
export function LabelsButton(props: { readonly jobId: number; readonly sampleIds: readonly number[] }) {
  const [isOpen, setOpen] = useState(false)
  return (
    <>
      <Button onClick={() => setOpen(true)}>Labels</Button>
      {isOpen ? <LabelsDialog {...props} onClose={() => setOpen(false)} /> : null}
    </>
  )
}

function LabelsDialog(props: {
  readonly jobId: number
  readonly sampleIds: readonly number[]
  readonly onClose: () => void
}) {
  const { jobId, sampleIds } = props
  const say = useNotice()
  const [paper, setPaper] = useState<'A4' | 'Letter'>('A4')
  const of = sampleIds.length > 0 ? { sampleIds: [...sampleIds] } : { jobId }
  const print = useAct(
    () => api.prints.labels.mutate({ of, paper }),
    ({ paperId, printed }) => {
      openPaper(paperId)
      say(`${countText(printed, 'label')} to print.`)
      props.onClose()
    },
  )
  const whose = sampleIds.length > 0 ? countText(sampleIds.length, 'sample') : 'the whole job'
  return (
    <Dialog title={`Labels for ${whose}`} onClose={props.onClose}>
      <Form onSubmit={() => print.run()} refusal={print.refusal}>
        <SelectField
          label="Paper"
          value={paper}
          options={[
            { value: 'A4', label: 'A4, eight labels of 105 × 74 mm' },
            { value: 'Letter', label: 'US Letter, eight labels of 108 × 70 mm' },
          ]}
          onChange={(value) => setPaper(value === 'Letter' ? 'Letter' : 'A4')}
        />
        <p className={words.quiet}>
          A label is for the hand scanner and for people. Only a ticket or a slate is large enough to be read
          in the photograph of a take: print those from the spins of the job.
        </p>
        <ButtonRow>
          <Button type="submit" kind="main" busy={print.busy}>
            Print them
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
