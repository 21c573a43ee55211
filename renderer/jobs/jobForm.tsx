import { useState } from 'react'
import { useNavigate, useSearchParams } from 'react-router'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField } from '../parts/field.tsx'
import { FieldGroup, Form } from '../parts/form.tsx'
import { LeaveGuard, saved } from '../parts/leaveGuard.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Page } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { JobFields } from './jobFields.tsx'
import { freshJob, jobValueOf, type KeptJob, sentJob } from './jobValue.ts'
import { type PickedSpin, ProductPicker, sentSpins } from './productPicker.tsx'

/** An enquiry becomes a job: whose, what is to be spun, by when. Its brief comes from the standing brief. */
export function NewJob() {
  const { today } = useStudio()
  const [params] = useSearchParams()
  const say = useNotice()
  const navigate = useNavigate()
  const names = useAsk(['clients', 'names'], () => api.clients.names.query())
  const draft = useDraft(freshJob(params.get('client') ?? '', today))
  const [spins, setSpins] = useState<readonly PickedSpin[]>([])
  const { values } = draft
  const add = useAct(
    () =>
      api.jobs.add.mutate({
        clientId: Number(values.clientId),
        job: sentJob(values),
        spins: sentSpins(spins),
      }),
    ({ jobId, number }) => {
      say(`${number} is on the board.`)
      void navigate(`/jobs/${jobId}`, { state: saved })
    },
  )
  if (names.data?.length === 0) return <NoClients />
  return (
    <Page
      title="New job"
      lead="Its brief starts as the client’s standing brief; you can change it in the job."
    >
      <LeaveGuard when={draft.touched || spins.length > 0} />
      <Form label="New job" refusal={add.refusal} onSubmit={() => add.run()}>
        <SelectField
          label="Client"
          name="clientId"
          value={values.clientId}
          options={(names.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
          onChange={(clientId) => {
            draft.patch({ clientId, contactId: '' })
            // Products belong to their client.
            setSpins([])
          }}
        />
        <JobFields value={values} onChange={draft.patch} />
        <FieldGroup legend="What is spun">
          {values.clientId === '' ? (
            <p>Choose the client first; its products are offered here. You can also add them later.</p>
          ) : (
            <ProductPicker clientId={Number(values.clientId)} spins={spins} onChange={setSpins} />
          )}
        </FieldGroup>
        <ButtonRow>
          <Button type="submit" kind="main" busy={add.busy}>
            Add the job
          </Button>
          <ButtonLink to="/board">Leave it</ButtonLink>
        </ButtonRow>
      </Form>
    </Page>
  )
}

function NoClients() {
  return (
    <Page title="New job">
      <Empty
        sentence="A job belongs to a client, and there is none yet."
        act={
          <ButtonLink to="/clients/new" kind="main">
            Add a client
          </ButtonLink>
        }
      />
    </Page>
  )
}

/** Changes what is agreed about a job. */
export function ChangeJob({ job }: { readonly job: KeptJob }) {
  const say = useNotice()
  const navigate = useNavigate()
  const draft = useDraft(jobValueOf(job))
  const change = useAct(
    () => api.jobs.change.mutate({ jobId: job.id, job: sentJob(draft.values) }),
    () => {
      say('The job is changed.')
      void navigate(`/jobs/${job.id}`, { state: saved })
    },
  )
  return (
    <Form label="What is agreed" onSubmit={() => change.run()} refusal={change.refusal}>
      <LeaveGuard when={draft.touched} />
      <JobFields value={draft.values} onChange={draft.patch} />
      <ButtonRow>
        <Button type="submit" kind="main" busy={change.busy}>
          Save
        </Button>
        <ButtonLink to={`/jobs/${job.id}`}>Leave it</ButtonLink>
      </ButtonRow>
    </Form>
  )
}
