import { memo } from 'react'
import { formatDecimal } from '../../main/trade/decimal.ts'
import { FieldLine } from '../parts/form.tsx'
import { Part } from '../parts/page.tsx'
import { Ring } from '../parts/ring.tsx'
import { ClosingChoices } from './closingChoices.tsx'
import { degreesText } from './figures.ts'
import { FrameSets } from './frameSets.tsx'
import { PastTurn } from './pastTurn.tsx'
import type { Plan } from './plan.ts'
import css from './planner.module.css'
import { Choosing, Typing, useText } from './plannerFields.tsx'
import { RigChoice } from './rigChoice.tsx'
import { RowsFields, useFirstRowLabel } from './rowsFields.tsx'
import { Standing } from './standing.tsx'
import { ofRow, type TurnView, tenthUm } from './turnView.ts'

const steps = [
  { value: 'mm', label: 'mm' },
  { value: 'divisions', label: 'divisions' },
  { value: 'degrees', label: 'degrees' },
  { value: 'frames', label: 'frames a turn' },
] as const

/** Rim, step and what follows from them: how the turn closes, what closes better, what is shot past it. */
export function TurnPart({ plan, isStanding }: { readonly plan: Plan; readonly isStanding: boolean }) {
  const { turn, cost } = plan
  return (
    <Part title="The turn">
      <div className={css.turn}>
        <div className={css.ring}>
          <Ring
            size={228}
            framesPerTurn={turn.frames}
            tape={turn.drawn}
            overlap={Math.min(turn.overlap, turn.frames)}
            centre={{ figure: String(turn.frames), word: 'frames a turn' }}
            label={`The planned turn${ofRow(turn)}`}
          />
        </div>
        <div className={css.stack}>
          <RimFields />
          <RowsFields turn={turn} angles={plan.angles} />
          <p role="status">{turn.sentence}</p>
          <p className={css.note}>{formsText(turn)}</p>
          <Standing when={isStanding} />
        </div>
      </div>
      <ClosingChoices turn={turn} stepMs={cost?.stepMs ?? 0} />
      <PastTurn turn={turn} cost={cost} />
      <FrameSets sets={plan.sets} smooth={plan.smooth} turn={turn} />
    </Part>
  )
}

const RimFields = memo(function RimFields() {
  const rimBy = useText('rimBy')
  const stepIn = useText('stepIn')
  const stepLabel = useFirstRowLabel(stepIn === 'frames' ? 'Frames a turn' : 'Step')
  return (
    <>
      <FieldLine>
        <RigChoice />
      </FieldLine>
      <FieldLine>
        <Choosing
          name="rimBy"
          label="The rim from"
          options={[
            { value: 'reading', label: 'its tape' },
            { value: 'diameter', label: 'a diameter' },
            { value: 'diameter and tape', label: 'both' },
          ]}
        />
        <Typing name="rim" label={rimBy === 'reading' ? 'Rim, as its tape reads' : 'Diameter'} unit="mm" />
        {rimBy === 'diameter and tape' ? (
          <Typing name="tape" label="Thickness of the tape" unit="mm" />
        ) : null}
        <Typing name="division" label="Smallest division" unit="mm" />
      </FieldLine>
      <FieldLine>
        <Choosing name="stepIn" label="The step in" options={steps} />
        <Typing
          name="step"
          label={stepLabel}
          {...(stepIn === 'frames' ? {} : { unit: unitOfStep(stepIn) })}
        />
        <Typing name="rows" label="Rows" />
      </FieldLine>
    </>
  )
})

function unitOfStep(stepIn: string): string {
  if (stepIn === 'divisions') return 'div.'
  return stepIn === 'degrees' ? '°' : 'mm'
}

/** The step in all its forms, on one line. */
function formsText({ forms, rimUm10 }: TurnView): string {
  return [
    `Rim ${tenthUm(rimUm10)} mm`,
    `step ${tenthUm(forms.stepUm10)} mm`,
    `${formatDecimal(Math.round(forms.divisions * 100), 2)} divisions`,
    degreesText(forms.degrees),
    `${formatDecimal(Math.round(forms.framesPerTurn * 100), 2)} to the turn`,
  ].join(' · ')
}
