import type { Answers } from '../../main/api/types.ts'
import { Asked } from '../parts/asked.tsx'
import { Button } from '../parts/button.tsx'
import { instantText } from '../parts/format.ts'
import { Empty } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { useStudio } from '../shell/studio.ts'

type JobPaper = Answers['clientPapers']['ofJob'][number]

/** Writes the order confirmation of a job as its order stands, and opens it. */
export function useOrderConfirmation(jobId: number) {
  return useAct(
    () => api.clientPapers.orderConfirmation.mutate({ jobId }),
    ({ paperId }) => openPaper(paperId),
  )
}

/** Writes the receipt for what of a job's products is in the studio, and opens it. */
export function useGoodsReceipt(jobId: number) {
  return useAct(
    () => api.clientPapers.goodsReceipt.mutate({ jobId }),
    ({ paperId }) => openPaper(paperId),
  )
}

/** Order confirmations and goods receipts of a job, as they were written. */
export function JobPapers({ jobId }: { readonly jobId: number }) {
  const { timeZone } = useStudio()
  const papers = useAsk(['clientPapers', jobId], () => api.clientPapers.ofJob.query({ jobId }))
  const columns: readonly Column<JobPaper>[] = [
    { key: 'name', head: 'Paper', cell: ({ name }) => name.replace(/\.pdf$/u, '') },
    {
      key: 'written',
      head: 'Written',
      figure: true,
      tight: true,
      cell: ({ writtenAt }) => instantText(writtenAt, timeZone),
    },
    {
      key: 'open',
      head: '',
      tight: true,
      cell: ({ attachmentId, name }) => (
        <Button kind="quiet" aria-label={`Open ${name}`} onClick={() => openPaper(attachmentId)}>
          Open
        </Button>
      ),
    },
  ]
  return (
    <Asked of={papers}>
      {(list) => (
        <Table
          caption="Order confirmations and goods receipts"
          columns={columns}
          rows={list}
          keyOf={({ attachmentId }) => attachmentId}
          empty={<Empty sentence="None yet. Each is kept here as it was written." />}
        />
      )}
    </Asked>
  )
}
