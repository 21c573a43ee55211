import { useMemo, useRef } from 'react'
import { um10FromMm } from '../../main/trade/length.ts'
import type { QuoteBasis } from '../../main/trade/quote.ts'
import { closing } from '../../main/trade/turn/closing.ts'
import { thirdOfTurn } from '../../main/trade/turn/framesToShoot.ts'
import { Button, ButtonLink } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { LengthField, NumberField } from '../parts/figureFields.tsx'
import { FieldLine } from '../parts/form.tsx'
import { withUnit } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { Ring } from '../parts/ring.tsx'
import { api, useAsk } from '../shell/api.ts'
import { plannerAddress } from './plannerAddress.ts'
import css from './quotes.module.css'
import type { TypedQuote } from './quoteValue.ts'
import { evenness, nearTurns, turnSeen } from './turnWords.ts'

interface TurnProps {
  readonly typed: TypedQuote
  readonly basis: QuoteBasis
  readonly patch: (values: Partial<TypedQuote>) => void
}

/** The usual tape, where no platter says otherwise: whole millimetres. */
const millimetreUm10 = 10_000

/** The platter that the rim is read on, and the studio's others. */
function usePlatters(rimUm10: number | null) {
  const platters = (useAsk(['platters', 'list'], () => api.platters.list.query()).data ?? []).map(
    (platter) => ({
      ...platter,
      rimUm10: um10FromMm(platter.rimMm, 'The rim'),
      divisionUm10: um10FromMm(platter.divisionMm, 'The division'),
    }),
  )
  return { platters, chosen: platters.find((platter) => platter.rimUm10 === rimUm10) }
}

/** The turn: frames from rim and step, how it closes, what is shot past it; drawn true to scale. */
export function QuoteTurn({ jobId, typed, basis, patch }: TurnProps & { readonly jobId: number }) {
  const { rimUm10, stepUm10, framesPerTurn, overlapFrames } = typed
  const divisionUm10 = usePlatters(rimUm10).chosen?.divisionUm10 ?? millimetreUm10
  const frames = useDrawable(framesPerTurn)
  const seen = useMemo(
    () => (rimUm10 !== null ? turnSeen(rimUm10, stepUm10, frames, divisionUm10) : undefined),
    [rimUm10, stepUm10, frames, divisionUm10],
  )
  return (
    <Part
      title="The turn"
      acts={
        <ButtonLink kind="quiet" to={plannerAddress(jobId, typed)}>
          Look at it in the planner
        </ButtonLink>
      }
    >
      <div className={css.turn}>
        <div className={css.ring}>
          <Ring
            size={228}
            framesPerTurn={frames}
            {...(seen?.tape ? { tape: seen.tape } : {})}
            overlap={Math.min(overlapFrames ?? 0, frames)}
            centre={{ figure: String(frames), word: 'frames a turn' }}
            label="The turn that is quoted"
          />
        </div>
        <div className={css.turnFields}>
          <TurnFields {...{ typed, patch }} />
          {seen ? (
            <p className={css.said} role="status">
              {seen.sentence}
            </p>
          ) : null}
          <NearTurns {...{ typed, basis, patch, divisionUm10 }} />
        </div>
      </div>
    </Part>
  )
}

/** The frames to draw: the last ones that make a turn stay while the field is empty, so that nothing jumps. */
function useDrawable(framesPerTurn: number | null): number {
  const last = useRef(2)
  if (framesPerTurn !== null && framesPerTurn >= 2 && framesPerTurn <= 1440) last.current = framesPerTurn
  return last.current
}

function TurnFields({ typed, patch }: Omit<TurnProps, 'basis'>) {
  const { framesPerTurn } = typed
  return (
    <>
      <FieldLine>
        <PlatterField {...{ typed, patch }} />
        <LengthField
          kept="um10"
          label="Rim"
          name="rimMm"
          value={typed.rimUm10}
          onChange={(rimUm10) => patch({ rimUm10, ...framesFrom(rimUm10, typed.stepUm10) })}
        />
        <LengthField
          kept="um10"
          label="Step along the rim"
          name="stepMm"
          value={typed.stepUm10}
          onChange={(stepUm10) => patch({ stepUm10, ...framesFrom(typed.rimUm10, stepUm10) })}
        />
      </FieldLine>
      <FieldLine>
        <NumberField
          label="Frames a turn"
          name="framesPerTurn"
          value={framesPerTurn}
          onChange={(frames) => patch({ framesPerTurn: frames, stepUm10: null })}
        />
        <NumberField
          label="Overlap"
          name="overlapFrames"
          unit="frames"
          value={typed.overlapFrames}
          onChange={(overlapFrames) => patch({ overlapFrames })}
        />
        <NumberField label="Rows" name="rows" value={typed.rows} onChange={(rows) => patch({ rows })} />
        {framesPerTurn !== null && framesPerTurn >= 3 ? (
          <div className={css.level}>
            <Button onClick={() => patch({ overlapFrames: thirdOfTurn(framesPerTurn) })}>
              {`Overlap a third: ${thirdOfTurn(framesPerTurn)}`}
            </Button>
          </div>
        ) : null}
      </FieldLine>
    </>
  )
}

/** Frames that rim and step ask for; nothing while one of them is missing or the step is no step of this rim. */
function framesFrom(rimUm10: number | null, stepUm10: number | null): Partial<TypedQuote> {
  if (rimUm10 === null || stepUm10 === null || stepUm10 <= 0 || rimUm10 < 2 * stepUm10) return {}
  const { nearestFrames } = closing(rimUm10, stepUm10)
  return nearestFrames <= 1440 ? { framesPerTurn: nearestFrames } : {}
}

function PlatterField({ typed, patch }: Omit<TurnProps, 'basis'>) {
  const { platters, chosen } = usePlatters(typed.rimUm10)
  if (platters.length === 0) return null
  return (
    <SelectField
      label="Platter"
      empty="Another rim"
      value={chosen ? String(chosen.id) : ''}
      options={platters.map(({ id, name, rimMm }) => ({
        value: String(id),
        label: `${name}, ${withUnit(rimMm, 'mm', 4)}`,
      }))}
      onChange={(id) => {
        const platter = platters.find((each) => String(each.id) === id)
        if (!platter) return
        patch({ rimUm10: platter.rimUm10, ...framesFrom(platter.rimUm10, typed.stepUm10) })
      }}
    />
  )
}

/** The nearest turns that close on this rim, best first; a press takes one. */
function NearTurns({ typed, basis, patch, divisionUm10 }: TurnProps & { readonly divisionUm10: number }) {
  const { rimUm10, framesPerTurn, stepUm10 } = typed
  const setSizes = useMemo(() => setSizesOf(basis), [basis])
  const choices = useMemo(
    () =>
      rimUm10 !== null && rimUm10 > 0 && framesPerTurn !== null && framesPerTurn >= 2 && framesPerTurn <= 1440
        ? nearTurns(rimUm10, framesPerTurn, divisionUm10, setSizes)
        : [],
    [rimUm10, framesPerTurn, divisionUm10, setSizes],
  )
  if (choices.length === 0) return null
  return (
    <ul className={css.choices} aria-label="Turns that close on this rim">
      {choices.map((choice) => {
        const closes = stepUm10 === null || choice.frames * stepUm10 === rimUm10
        const isTaken = choice.frames === framesPerTurn && closes
        return (
          <li key={choice.frames}>
            <Button
              kind="quiet"
              aria-pressed={isTaken}
              onClick={() => patch({ framesPerTurn: choice.frames, stepUm10: null })}
            >
              {`${choice.frames} frames`}
            </Button>
            <span>
              {evenness(choice)}
              {choice.evenSets.length > 0 ? `, sets of ${choice.evenSets.join(' and ')} come out even` : ''}
            </span>
          </li>
        )
      })}
    </ul>
  )
}

function setSizesOf(basis: QuoteBasis): readonly number[] {
  const sizes = basis.spins.flatMap(({ deliverables }) =>
    deliverables.flatMap(({ kind, frames }) => (kind === 'frame set' && frames !== null ? [frames] : [])),
  )
  return [...new Set(sizes)]
}
