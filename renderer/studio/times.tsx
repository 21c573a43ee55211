import type { Answers, Asks } from '../../main/api/types.ts'
import { Asked } from '../parts/asked.tsx'
import { ButtonLink } from '../parts/button.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField } from '../parts/field.tsx'
import { LengthField, NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine } from '../parts/form.tsx'
import { countText, percentText, secondsText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { HandlingForm } from './handling.tsx'
import { MinutesField } from './minutesField.tsx'
import css from './screen.module.css'
import { SettingsForm } from './settingsForm.tsx'

type PaceAnswer = Answers['pace']['figures']
type Figures = PaceAnswer['figures']
type Typed = { readonly [K in keyof Figures]: number | null }

/** The times every estimate starts from, until the studio's takes have taught better ones. */
export function TimesSection() {
  const pace = useAsk(['pace', 'figures'], () => api.pace.figures.query())
  return (
    <Asked of={pace}>
      {(answer) => (
        <div className={css.parts}>
          <Part title="Times" acts={<ButtonLink to="/figures">What takes have taught</ButtonLink>}>
            <FiguresForm figures={answer.figures} learned={answer.learned} />
          </Part>
          <Part title="Handling of one product">
            <HandlingForm handling={answer.handling} />
          </Part>
        </div>
      )}
    </Asked>
  )
}

function FiguresForm(props: { readonly figures: Figures; readonly learned: PaceAnswer['learned'] }) {
  const draft = useDraft<Typed>(props.figures)
  const { values, set } = draft
  const say = useNotice()
  const save = useAct(
    // A figure left empty goes as null: the studio answers with the sentence for its field.
    () => api.pace.change.mutate(values as Asks['pace']['change']),
    () => {
      draft.reset(values)
      say('Saved. Estimates follow it from now on.')
    },
  )
  const field = (
    name: keyof Figures,
    label: string,
    as: { unit?: string; places?: number; hint?: string },
  ) => <NumberField label={label} name={name} value={values[name]} onChange={set(name)} {...as} />
  const minutes = (name: keyof Figures, label: string) => (
    <MinutesField label={label} name={name} value={values[name]} onChange={set(name)} />
  )
  return (
    <SettingsForm
      label="Times"
      touched={draft.touched}
      busy={save.busy}
      refusal={save.refusal}
      onSave={save.run}
    >
      <p className={css.note}>{learnedSentence(props.learned)}</p>
      <FieldGroup legend="Turning">
        <FieldLine>
          {field('stepMs', 'Frame to frame', { unit: 's', places: 3 })}
          {field('stepSpreadPpm', 'Spread of it', { unit: '%', places: 4, hint: 'From take to take.' })}
          {field('checkFrames', 'Check frames', { unit: 'frames', hint: 'Before the turn.' })}
          {field('overlapFrames', 'Overlap', { unit: 'frames', hint: 'Where a brief says nothing.' })}
        </FieldLine>
        <FieldLine>
          {minutes('rowChangeMs', 'Row to row')}
          {field('restartPpm', 'Take begun again', { unit: '%', places: 4, hint: 'Of all spins.' })}
          {minutes('restartPauseMs', 'After a rejected take')}
        </FieldLine>
        <FieldLine>
          {field('reshootPpm', 'Shot again later', { unit: '%', places: 4, hint: 'After the set is gone.' })}
          {field('turningCapMinutes', 'Turning a day', { unit: 'min', hint: 'What hands and eyes last.' })}
        </FieldLine>
      </FieldGroup>
      <FieldGroup legend="Handling, and a second person">
        <p className={css.note}>
          While one person turns a spin, a second can prepare the next one beside the platter: unpack, clean,
          mount. Placing and centring stay on the platter.
        </p>
        <FieldLine>
          <SelectField
            label="At the bench"
            name="benchPeople"
            hint="Where a quote says nothing else."
            value={values.benchPeople === 2 ? '2' : '1'}
            options={[
              { value: '1', label: 'one person' },
              { value: '2', label: 'two people' },
            ]}
            onChange={(people) => set('benchPeople')(people === '2' ? 2 : 1)}
          />
          {field('besidePpm', 'Of handling, beside', {
            unit: '%',
            places: 4,
            hint: 'What the second person can do.',
          })}
          {field('handlingSpreadPpm', 'Spread of handling', {
            unit: '%',
            places: 4,
            hint: 'From product to product.',
          })}
        </FieldLine>
      </FieldGroup>
      <FieldGroup legend="Set change">
        <FieldLine>
          {minutes('changePlatterMs', 'Platter')}
          {minutes('changeLightMs', 'Each light')}
          {minutes('changeCameraMs', 'Camera')}
          {minutes('changeLensMs', 'Lens')}
        </FieldLine>
        <FieldLine>
          {minutes('changeBackdropMs', 'Backdrop')}
          {minutes('changeSettingsMs', 'Settings alone')}
        </FieldLine>
      </FieldGroup>
      <FieldGroup legend="Desk">
        <FieldLine>
          {field('frameBytes', 'A frame’s file', { unit: 'MB', places: 6 })}
          {field('copyBytesPerSecond', 'Copying', { unit: 'MB/s', places: 6 })}
          {field('developFrameMs', 'Developing a frame', { unit: 's', places: 3 })}
          {field('exportFrameMs', 'Exporting a frame', { unit: 's', places: 3 })}
        </FieldLine>
        <FieldLine>{minutes('pickSpinMs', 'Picking, a spin')}</FieldLine>
      </FieldGroup>
      <FieldGroup legend="Sizes">
        <FieldLine>
          <LengthField
            label="Small, up to"
            name="smallMaxUm"
            kept="um"
            hint="Swept width or height."
            value={values.smallMaxUm}
            onChange={set('smallMaxUm')}
          />
          <LengthField
            label="Medium, up to"
            name="mediumMaxUm"
            kept="um"
            value={values.mediumMaxUm}
            onChange={set('mediumMaxUm')}
          />
        </FieldLine>
      </FieldGroup>
    </SettingsForm>
  )
}

function learnedSentence({ stepMs, takes, weight }: PaceAnswer['learned']): string {
  if (takes === 0) {
    return 'Estimates start from these figures. Once takes are shot, the step, handling and what goes wrong are learned from them.'
  }
  return `From ${countText(takes, 'take')} Turnsheet has learned ${secondsText(stepMs / 1000)} from frame to frame; estimates use that, ${percentText(weight)} of it from takes and the rest from your figure.`
}
