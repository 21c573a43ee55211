import { useState } from 'react'
import words from '../look/words.module.css'
import { Button } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { dayIn, dayText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { AgreeDialog, type Right, RightDialog, WithdrawDialog } from './rightDialogs.tsx'
import { daysOfRight } from './rightText.ts'

type Open = 'change' | 'agree' | 'withdraw'

/** What a job's pictures may be used for: proposed, then agreed with the quote or on its own. */
export function JobRights({ jobId }: { readonly jobId: number }) {
  const rights = useAsk(['usageRights', 'ofJob', jobId], () => api.usageRights.ofJob.query({ jobId }))
  const [isAdding, setAdding] = useState(false)
  const [open, setOpen] = useState<{ readonly what: Open; readonly right: Right }>()
  const say = useNotice()
  const remove = useAct(
    (right: Right) => api.usageRights.remove.mutate({ rightId: right.id }),
    () => say('The right is taken off.'),
  )
  const close = () => setOpen(undefined)
  const columns = useColumns((what, right) =>
    what === 'remove' ? remove.run(right) : setOpen({ what, right }),
  )
  return (
    <Part title="Rights of use" acts={<Button onClick={() => setAdding(true)}>Add a right</Button>}>
      {remove.refusal ? <FormRefusal sentence={remove.refusal.sentence} /> : null}
      <Table
        caption="Rights of use of this job"
        columns={columns}
        rows={rights.data}
        keyOf={({ id }) => id}
        empty={
          <Empty sentence="None is written down. Say what the pictures may be used in, where and until when; it stands on the quote, the invoice and the file list." />
        }
      />
      {rights.data?.some(({ agreedAt }) => agreedAt === null) ? (
        <p className={words.quiet}>
          What is proposed goes with the quote that is sent next, and is agreed with its yes. A quote that was
          sent keeps the rights it named. Its price is a line of the quote.
        </p>
      ) : null}
      {isAdding ? <RightDialog jobId={jobId} onClose={() => setAdding(false)} /> : null}
      {open?.what === 'change' ? <RightDialog jobId={jobId} right={open.right} onClose={close} /> : null}
      {open?.what === 'agree' ? <AgreeDialog right={open.right} onClose={close} /> : null}
      {open?.what === 'withdraw' ? <WithdrawDialog right={open.right} onClose={close} /> : null}
    </Part>
  )
}

function useColumns(act: (what: Open | 'remove', right: Right) => void): readonly Column<Right>[] {
  const { today, timeZone } = useStudio()
  return [
    { key: 'media', head: 'For', cell: ({ media }) => media },
    { key: 'territory', head: 'Where', cell: ({ territory }) => territory },
    { key: 'days', head: 'When', cell: (right) => daysOfRight(right, today) },
    {
      key: 'passes',
      head: 'Passes',
      cell: ({ passesOnPayment }) => (passesOnPayment ? 'with the payment' : 'with the files'),
    },
    {
      key: 'stands',
      head: 'Stands',
      cell: (right) => {
        if (right.withdrawnAt !== null) return `withdrawn: ${right.withdrawnReason}`
        if (right.agreedAt === null) return 'proposed'
        const agreed = `agreed ${dayText(dayIn(timeZone, new Date(right.agreedAt)), today)}`
        return right.standing === 'ended' || right.standing === 'ends soon'
          ? `${agreed}, ${right.standing}`
          : agreed
      },
    },
    ...(['agree', 'change', 'end'] as const).map(
      (what): Column<Right> => ({
        key: what,
        head: headWords[what],
        isHeadSpoken: true,
        tight: true,
        cell: (right) => <RightAct what={what} right={right} act={act} />,
      }),
    ),
  ]
}

const headWords = { agree: 'Agreed', change: 'Change', end: 'Take off or withdraw' } as const

/** What can be done with a right: a proposed one is agreed, changed or taken off, an agreed one withdrawn. */
function RightAct(props: {
  readonly what: keyof typeof headWords
  readonly right: Right
  readonly act: (what: Open | 'remove', right: Right) => void
}) {
  const { what, right, act } = props
  if (right.withdrawnAt !== null) return null
  if (right.agreedAt !== null && what !== 'end') return null
  const [does, word] =
    what !== 'end'
      ? ([what, headWords[what]] as const)
      : right.agreedAt === null
        ? (['remove', 'Take off'] as const)
        : (['withdraw', 'Withdraw'] as const)
  return (
    <Button kind="quiet" aria-label={`${word}: ${right.media}`} onClick={() => act(does, right)}>
      {word}
    </Button>
  )
}
