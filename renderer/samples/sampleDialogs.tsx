import type { Asks } from '../../main/api/types.ts'
import { sampleStateWords } from '../../main/trade/samples.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { DateField, SelectField, TextArea } from '../parts/field.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { Form } from '../parts/form.tsx'
import { countText, instantText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Fact, Sheet } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { type Sample, spinsOf } from './jobSamples.tsx'
import { promiseWords } from './promiseWords.ts'

interface OfSamples {
  readonly samples: readonly Sample[]
  readonly onClose: () => void
}

type Fate = NonNullable<Asks['samples']['agree']['fate']>

function sampleCount(samples: readonly Sample[]): string {
  const [only] = samples
  return samples.length === 1 && only ? only.code : countText(samples.length, 'sample')
}

/** The value that all of them share, or undefined. */
function shared<T>(values: readonly T[]): T | undefined {
  return values.every((value) => value === values[0]) ? values[0] : undefined
}

/** When samples are expected, what they are worth, what becomes of them. What is left alone stays as it was. */
export function AgreeDialog({ samples, currency, onClose }: OfSamples & { readonly currency: string }) {
  const { today } = useStudio()
  const say = useNotice()
  const start = {
    expectedDay: shared(samples.map(({ expectedDay }) => expectedDay)) ?? '',
    fate: shared(samples.map(({ fate }) => fate)) ?? ('' as Fate | ''),
    valueMinor: shared(samples.map(({ valueMinor }) => valueMinor)) ?? null,
  }
  const { values, set } = useDraft<{ expectedDay: string; fate: Fate | ''; valueMinor: number | null }>(start)
  const agree = useAct(
    () =>
      api.samples.agree.mutate({
        sampleIds: samples.map(({ id }) => id),
        ...(values.expectedDay === start.expectedDay ? {} : { expectedDay: values.expectedDay || null }),
        ...(values.fate === '' ? {} : { fate: values.fate }),
        ...(values.valueMinor === start.valueMinor ? {} : { valueMinor: values.valueMinor }),
      }),
    ({ promises }) => {
      say(`${sampleCount(samples)}: written down.${promiseWords(promises, today)}`)
      onClose()
    },
  )
  return (
    <Dialog title={`Agreed about ${sampleCount(samples)}`} onClose={onClose}>
      <Form onSubmit={() => agree.run()} refusal={agree.refusal}>
        <DateField
          label="Expected on"
          name="expectedDay"
          value={values.expectedDay}
          onChange={set('expectedDay')}
        />
        <SelectField<Fate>
          label="Afterwards"
          name="fate"
          value={values.fate}
          options={[
            { value: 'return', label: 'return to the client' },
            { value: 'keep', label: 'keep' },
            { value: 'destroy', label: 'destroy' },
          ]}
          onChange={set('fate')}
        />
        <MoneyField
          label="Value of each"
          name="valueMinor"
          currency={currency}
          value={values.valueMinor}
          onChange={set('valueMinor')}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={agree.busy}>
            Write it down
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** Lets the spins of these samples go on although they are not here, with a reason. */
export function WithoutDialog({ jobId, samples, onClose }: OfSamples & { readonly jobId: number }) {
  const say = useNotice()
  const { values, set } = useDraft({ reason: '' })
  const spins = useAsk(['spins', 'list', jobId], () => api.spins.list.query({ jobId }))
  const shootIds = spinsOf(spins.data ?? [], samples)
  const go = useAct(
    () => api.samples.goWithout.mutate({ shootIds, reason: values.reason }),
    () => {
      say(`${countText(shootIds.length, 'spin goes', 'spins go')} on without samples.`)
      onClose()
    },
  )
  return (
    <Dialog title={`Go on without ${sampleCount(samples)}`} onClose={onClose}>
      <Form onSubmit={() => go.run()} refusal={go.refusal}>
        <p>{`${countText(shootIds.length, 'spin', 'spins')} can be booked and turned although the sample is not on the shelf.`}</p>
        <TextArea
          label="Why it is right to go on"
          name="reason"
          rows={2}
          hint="The reason is kept in the job’s history."
          value={values.reason}
          onChange={set('reason')}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={go.busy} disabled={shootIds.length === 0}>
            Go on without
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** Every move of one sample, newest first. */
export function CustodyDialog({
  sample,
  onClose,
}: {
  readonly sample: Sample
  readonly onClose: () => void
}) {
  const { timeZone } = useStudio()
  const sampleId = sample.id
  const moves = useAsk(['samples', 'moves', sampleId], () => api.samples.moves.query({ sampleId }))
  return (
    <Dialog title={`Moves of ${sample.code}`} onClose={onClose}>
      <Asked of={moves}>
        {(list) =>
          list.length === 0 ? (
            <Empty sentence="It has not come yet." />
          ) : (
            <Sheet>
              {list.map((move) => (
                <Fact key={move.id} label={instantText(move.at, timeZone)}>
                  {[
                    sampleStateWords[move.state],
                    move.place,
                    move.condition,
                    move.carrier,
                    move.note,
                    move.person,
                  ]
                    .filter(Boolean)
                    .join(', ')}
                </Fact>
              ))}
            </Sheet>
          )
        }
      </Asked>
    </Dialog>
  )
}
