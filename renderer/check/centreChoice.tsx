import type { CentreChoice } from '../../main/trade/check/centre/centre.ts'
import type { Plan } from '../../main/trade/product.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { SelectField } from '../parts/field.tsx'
import { FieldLine, FormRefusal } from '../parts/form.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import css from './checkPage.module.css'

const names: Readonly<Record<CentreChoice, string>> = {
  body: 'On the body',
  'least sweep': 'For least sweep',
}

const meant: Readonly<Record<CentreChoice, string>> = {
  body: 'The body turns on the axis; a handle or a spout does not count.',
  'least sweep': 'All of it turns in the smallest circle that it can, as for a shoe or a bag.',
}

const usualBecause: Readonly<Record<Plan, string>> = {
  round: 'On the body is usual, because the product is entered as round.',
  box: 'On the body is usual, because the product is entered as a box.',
  measured: 'For least sweep is usual, because the product is entered as neither round nor a box.',
}

/** Keeps what of a spin is to stand on the axis. */
export function useCentreChoice(shootId: number) {
  return useAct((choice: CentreChoice) => api.centreChoices.choose.mutate({ shootId, choice }))
}

/** What of the product is to stand on the axis; the usual is marked, and why it is. */
export function CentreChoiceField(props: {
  readonly value: CentreChoice
  readonly usual: CentreChoice
  readonly plan: Plan
  readonly onChange: (choice: CentreChoice) => void
}) {
  const { value, usual, plan } = props
  const options = (['body', 'least sweep'] as const).map((choice) => ({
    value: choice,
    label: choice === usual ? `${names[choice]} (usual)` : names[choice],
  }))
  return (
    <SelectField
      label="Centre"
      value={value}
      options={options}
      hint={`${meant[value]} ${usualBecause[plan]}`}
      onChange={props.onChange}
    />
  )
}

/** The choice on a take's own page: the report is told anew by it, and the help before the next take begins with it. */
export function CentreOfSpin(props: {
  readonly shootId: number
  /** By what the report that is shown was told. */
  readonly toldBy: CentreChoice
  /** True while the pictures are followed, so that the report is told anew by itself. */
  readonly isFollowed: boolean
}) {
  const { shootId, toldBy } = props
  const asked = useAsk(['centreChoices', shootId], () => api.centreChoices.ofSpin.query({ shootId }))
  const choose = useCentreChoice(shootId)
  return (
    <section aria-label="What stands on the axis">
      <Asked of={asked}>
        {({ choice, usual, plan }) => (
          <div className={css.axis}>
            {choose.refusal ? <FormRefusal sentence={choose.refusal.sentence} /> : null}
            <FieldLine>
              <CentreChoiceField value={choice} usual={usual} plan={plan} onChange={choose.run} />
            </FieldLine>
            <p role="status" className={words.quiet}>
              {choice === toldBy
                ? 'Kept with the spin: all its takes are told by it, and the help before the next one begins with it.'
                : props.isFollowed
                  ? 'The centre is being told anew.'
                  : `The centre above was told ${inWords(toldBy)}. Read the pictures again to have it ${inWords(choice)}.`}
            </p>
          </div>
        )}
      </Asked>
    </section>
  )
}

/** As it stands within a sentence. */
function inWords(choice: CentreChoice): string {
  return choice === 'body' ? 'on the body' : 'for least sweep'
}
