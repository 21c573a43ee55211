import type { Answers, Asks } from '../../main/api/types.ts'
import { Asked } from '../parts/asked.tsx'
import { useDraft } from '../parts/draft.ts'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine } from '../parts/form.tsx'
import { durationText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import css from './screen.module.css'
import { SettingsForm } from './settingsForm.tsx'

type Weights = Answers['plans']['weights']
type Typed = { readonly [K in keyof Weights]: number | null }

/** What a minute late counts when the bench is planned, by the priority of the job. */
export function PlanningSection() {
  const weights = useAsk(['plans', 'weights'], () => api.plans.weights.query())
  return (
    <Part title="Planning">
      <Asked of={weights}>{(kept) => <WeightsForm kept={kept} />}</Asked>
    </Part>
  )
}

function WeightsForm({ kept }: { readonly kept: Weights }) {
  const draft = useDraft<Typed>(kept)
  const { values, set } = draft
  const say = useNotice()
  const save = useAct(
    // A figure left empty goes as null: the studio answers with the sentence for its field.
    () => api.plans.setWeights.mutate(values as Asks['plans']['setWeights']),
    () => {
      draft.reset(values)
      say('Saved. Plans follow it from now on; what is booked stays.')
    },
  )
  return (
    <SettingsForm
      label="Planning"
      touched={draft.touched}
      busy={save.busy}
      refusal={save.refusal}
      onSave={save.run}
    >
      <p className={css.note}>
        When not every promised day can be kept, the bench plan makes as few late minutes as it can. A minute
        counts as often as you say here, by its job’s priority; only how the three compare matters. Set
        changes never make a spin late: they come second.
      </p>
      <FieldLine>
        <NumberField label="Low" name="low" unit="times" value={values.low} onChange={set('low')} />
        <NumberField
          label="Normal"
          name="normal"
          unit="times"
          value={values.normal}
          onChange={set('normal')}
        />
        <NumberField label="High" name="high" unit="times" value={values.high} onChange={set('high')} />
      </FieldLine>
      <p className={css.note}>{meaning(values)}</p>
    </SettingsForm>
  )
}

/** The weights by an example; the studio starts with 1, 2 and 6. */
function meaning({ low, normal, high }: Typed): string {
  if (!low || !normal || !high || low > normal || normal > high) {
    return 'Whole numbers from 1 to 100, none less than the one before. A studio starts with 1, 2 and 6.'
  }
  const hour = (times: number) => durationText(Math.round(60 * times))
  return `So one hour late on a job of high priority is as bad as ${hour(high / normal)} on a normal one, and as ${hour(high / low)} on one of low priority. A studio starts with 1, 2 and 6.`
}
