import type { Answers } from '../../main/api/types.ts'
import { BriefForm } from '../briefs/briefForm.tsx'
import { briefValueOf, sentBrief } from '../briefs/briefValue.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { useDraft } from '../parts/draft.ts'
import { Form } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { LeaveGuard } from '../parts/leaveGuard.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'

/** What is wanted of the job's spins; single spins may have a brief of their own on the spins page. */
export function JobBrief({ jobId }: { readonly jobId: number }) {
  const answer = useAsk(['jobs', 'brief', jobId], () => api.jobs.brief.query({ jobId }))
  return (
    <Part title="Brief">
      <Asked of={answer}>{(brief) => <BriefOfJob key={brief.id} jobId={jobId} brief={brief} />}</Asked>
    </Part>
  )
}

function BriefOfJob({ jobId, brief }: { readonly jobId: number; readonly brief: Answers['jobs']['brief'] }) {
  const say = useNotice()
  const draft = useDraft({ brief: briefValueOf(brief) })
  const rewrite = useAct(
    () => api.jobs.rewriteBrief.mutate({ jobId, brief: sentBrief(draft.values.brief) }),
    async ({ spinsKeptAsTurned }) => {
      // New deliverables have their ids now; the form goes on from what is kept.
      draft.reset({ brief: briefValueOf(await api.jobs.brief.query({ jobId })) })
      say(
        spinsKeptAsTurned === 0
          ? 'The brief is saved.'
          : `The brief is saved. ${countText(spinsKeptAsTurned, 'spin keeps', 'spins keep')} the rows already turned.`,
      )
    },
  )
  return (
    <Form label="Brief of the job" onSubmit={() => rewrite.run()} refusal={rewrite.refusal}>
      <LeaveGuard when={draft.touched} />
      <BriefForm value={draft.values.brief} onChange={draft.set('brief')} />
      <ButtonRow>
        <Button type="submit" kind="main" busy={rewrite.busy}>
          Save the brief
        </Button>
      </ButtonRow>
    </Form>
  )
}
