import { useState } from 'react'
import type { Answers, Asks } from '../../main/api/types.ts'
import { BriefForm } from '../briefs/briefForm.tsx'
import { briefValueOf, sentBrief } from '../briefs/briefValue.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField, TextArea, TextField } from '../parts/field.tsx'
import { Form } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import type { Spin } from './jobSpins.tsx'
import { type PickedSpin, ProductPicker, sentSpins } from './productPicker.tsx'

/** Which dialog of the spins page is open, and what it is about. */
export type OpenSpinDialog =
  | { readonly which: 'add'; readonly jobId: number; readonly clientId: number }
  | { readonly which: 'describe'; readonly spin: Spin }
  | { readonly which: 'brief' | 'reshoot' | 'cancel'; readonly spins: readonly Spin[] }

export function SpinDialog({
  open,
  onClose,
}: {
  readonly open: OpenSpinDialog
  readonly onClose: () => void
}) {
  switch (open.which) {
    case 'add':
      return <AddSpins {...open} onClose={onClose} />
    case 'describe':
      return <DescribeSpin spin={open.spin} onClose={onClose} />
    case 'brief':
      return <OwnBrief spins={open.spins} onClose={onClose} />
    case 'reshoot':
      return <Reshoot spins={open.spins} onClose={onClose} />
    case 'cancel':
      return <CancelSpins spins={open.spins} onClose={onClose} />
  }
}

interface OfSpins {
  readonly spins: readonly Spin[]
  readonly onClose: () => void
}

function spinCount(spins: readonly Spin[]): string {
  const [only] = spins
  return spins.length === 1 && only ? only.name : countText(spins.length, 'spin')
}

function AddSpins(props: {
  readonly jobId: number
  readonly clientId: number
  readonly onClose: () => void
}) {
  const say = useNotice()
  const [spins, setSpins] = useState<readonly PickedSpin[]>([])
  const add = useAct(
    () => api.spins.add.mutate({ jobId: props.jobId, spins: sentSpins(spins) }),
    ({ shootIds }) => {
      say(`${countText(shootIds.length, 'spin is', 'spins are')} added.`)
      props.onClose()
    },
  )
  return (
    <Dialog title="Add spins" wide onClose={props.onClose}>
      <Form onSubmit={() => add.run()} refusal={add.refusal}>
        <ProductPicker clientId={props.clientId} spins={spins} onChange={setSpins} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={add.busy} disabled={spins.length === 0}>
            Add them to the job
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

function DescribeSpin({ spin, onClose }: { readonly spin: Spin; readonly onClose: () => void }) {
  const { values, set } = useDraft({ name: spin.name, note: spin.note ?? '' })
  const describe = useAct(() => api.spins.describe.mutate({ shootId: spin.id, ...values }), onClose)
  return (
    <Dialog title={spin.name} onClose={onClose}>
      <Form onSubmit={() => describe.run()} refusal={describe.refusal}>
        <TextField
          label="What the spin is called"
          name="name"
          hint="Such as “lid open”, where a product is spun twice."
          value={values.name}
          onChange={set('name')}
        />
        <TextArea label="Note" name="note" rows={2} value={values.note} onChange={set('note')} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={describe.busy}>
            Save
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

function OwnBrief({ spins, onClose }: OfSpins) {
  const shootId = spins[0]?.id ?? 0
  const answer = useAsk(['spins', 'brief', shootId], () => api.spins.brief.query({ shootId }))
  return (
    <Dialog title={`A brief of its own for ${spinCount(spins)}`} wide onClose={onClose}>
      <Asked of={answer}>
        {(brief) => <OwnBriefForm key={brief.id} spins={spins} brief={brief} onClose={onClose} />}
      </Asked>
    </Dialog>
  )
}

function OwnBriefForm({ spins, brief, onClose }: OfSpins & { readonly brief: Answers['spins']['brief'] }) {
  const say = useNotice()
  const [value, setValue] = useState(() => briefValueOf(brief))
  const write = useAct(
    () => api.spins.writeBrief.mutate({ shootIds: spins.map(({ id }) => id), brief: sentBrief(value) }),
    () => {
      say('They are spun to a brief of their own.')
      onClose()
    },
  )
  return (
    <Form label="Brief of these spins" onSubmit={() => write.run()} refusal={write.refusal}>
      <p>An exception from the job’s brief; later changes of the job’s brief do not reach it.</p>
      <BriefForm value={value} onChange={setValue} />
      <ButtonRow>
        <Button type="submit" kind="main" busy={write.busy}>
          Save their brief
        </Button>
        <Button onClick={onClose}>Leave it</Button>
      </ButtonRow>
    </Form>
  )
}

type Cause = Asks['spins']['reshoot']['cause']

const causes: readonly { readonly value: Cause; readonly label: string }[] = [
  { value: 'ours', label: 'ours' },
  { value: "client's wish", label: 'the client’s wish' },
  { value: 'sample', label: 'the sample' },
  { value: 'carrier', label: 'the carrier' },
]

function Reshoot({ spins, onClose }: OfSpins) {
  const say = useNotice()
  const { values, set } = useDraft<{ cause: Cause; reason: string }>({ cause: 'ours', reason: '' })
  const call = useAct(
    () => api.spins.reshoot.mutate({ shootIds: spins.map(({ id }) => id), ...values }),
    () => {
      say(`${spinCount(spins)}: to be turned again.`)
      onClose()
    },
  )
  return (
    <Dialog title={`Turn ${spinCount(spins)} again`} onClose={onClose}>
      <Form onSubmit={() => call.run()} refusal={call.refusal}>
        <p>
          What was picked and what the client said yes to no longer counts, and samples that have gone back
          are waited for again. The cause decides who pays.
        </p>
        <SelectField
          label="Whose cause"
          name="cause"
          value={values.cause}
          options={causes}
          onChange={set('cause')}
        />
        <TextArea
          label="What is wrong"
          name="reason"
          rows={2}
          value={values.reason}
          onChange={set('reason')}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={call.busy}>
            Call for a reshoot
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

function CancelSpins({ spins, onClose }: OfSpins) {
  const say = useNotice()
  const { values, set } = useDraft({ reason: '' })
  const cancel = useAct(
    () => api.spins.cancel.mutate({ shootIds: spins.map(({ id }) => id), ...values }),
    () => {
      say(`${spinCount(spins)}: cancelled.`)
      onClose()
    },
  )
  return (
    <Dialog title={`Take ${spinCount(spins)} out of the job`} onClose={onClose}>
      <Form onSubmit={() => cancel.run()} refusal={cancel.refusal}>
        <p>
          Samples that no other spin needs are no longer waited for. Nothing is deleted; it can be brought
          back.
        </p>
        <TextArea label="Why" name="reason" rows={2} value={values.reason} onChange={set('reason')} />
        <ButtonRow>
          <Button type="submit" kind="grave" busy={cancel.busy}>
            Cancel them
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
