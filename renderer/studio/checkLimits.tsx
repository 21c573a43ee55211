import type { Answers, Asks } from '../../main/api/types.ts'
import { Asked } from '../parts/asked.tsx'
import { useDraft } from '../parts/draft.ts'
import { LengthField, NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import css from './screen.module.css'
import { SettingsForm } from './settingsForm.tsx'

type Limits = Answers['takeCheck']['limits']
type Typed = { readonly [K in keyof Limits]: number | null }

/** From where the check of a take finds fault. */
export function CheckLimitsSection() {
  const limits = useAsk(['takeCheck', 'limits'], () => api.takeCheck.limits.query())
  return (
    <Part title="Take check">
      <Asked of={limits}>{(data) => <LimitsForm limits={data} />}</Asked>
    </Part>
  )
}

function LimitsForm({ limits }: { readonly limits: Limits }) {
  const draft = useDraft<Typed>(limits)
  const { values, set } = draft
  const say = useNotice()
  const save = useAct(
    // A figure left empty goes as null: the studio answers with the sentence for its field.
    () => api.takeCheck.setLimits.mutate(values as Asks['takeCheck']['setLimits']),
    () => {
      draft.reset(values)
      say('Saved. Takes are checked by it from now on.')
    },
  )
  const ev = (name: 'flickerMev' | 'lightStepMev' | 'driftMev', label: string, hint: string) => (
    <NumberField
      label={label}
      name={name}
      unit="EV"
      places={3}
      value={values[name]}
      onChange={set(name)}
      hint={hint}
    />
  )
  return (
    <SettingsForm
      label="Take check"
      touched={draft.touched}
      busy={save.busy}
      refusal={save.refusal}
      onSave={save.run}
    >
      <p className={css.note}>
        What the check finds from here on is shown; it becomes a take’s fault only when somebody agrees. The
        values that a new studio starts from are common practice, no published source: change them to what
        your clients see. A report that is kept stays as it is until its take is checked again.
      </p>
      <FieldGroup legend="Light">
        <FieldLine>
          {ev('flickerMev', 'Flicker, from', 'From one frame to the next. Common practice: 0.02\u00a0EV.')}
          {ev(
            'lightStepMev',
            'A step, from',
            'A change that stays: a lamp moved or died. Common practice: 0.05\u00a0EV.',
          )}
          {ev('driftMev', 'Drift, from', 'Slowly, over the whole take. Common practice: 0.1\u00a0EV.')}
        </FieldLine>
      </FieldGroup>
      <FieldGroup legend="Place">
        <FieldLine>
          <LengthField
            label="Off centre, from"
            name="centreUm"
            kept="um"
            value={values.centreUm}
            onChange={set('centreUm')}
            hint={'Off the platter’s axis. Common practice: 1\u00a0mm.'}
          />
          <NumberField
            label="Room at the edges"
            name="marginPpm"
            unit="%"
            places={4}
            value={values.marginPpm}
            onChange={set('marginPpm')}
            hint={'Of the picture’s longest side, at every angle. Common practice: 2\u00a0%.'}
          />
        </FieldLine>
      </FieldGroup>
    </SettingsForm>
  )
}
