import { useMemo, useRef, useState } from 'react'
import { um10FromMm } from '../../main/trade/length.ts'
import type { QuoteBasis } from '../../main/trade/quote.ts'
import { closing } from '../../main/trade/turn/closing.ts'
import { areRowsAlike, mostFramesPerTurn } from '../../main/trade/turn/rows.ts'
import { Button, ButtonLink } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { LengthField } from '../parts/figureFields.tsx'
import { FieldLine } from '../parts/form.tsx'
import { withUnit } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { Ring } from '../parts/ring.tsx'
import { api, useAsk } from '../shell/api.ts'
import { plannerAddress } from './plannerAddress.ts'
import { QuoteRows, type RowsHand, turned } from './quoteRows.tsx'
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

/** The rows: frames from rim and step, how their turn closes, what is shot past it; drawn true to scale. */
export function QuoteTurn({ jobId, typed, basis, patch }: TurnProps & { readonly jobId: number }) {
  const { rimUm10, stepUm10, rows } = typed
  const [wish, setWish] = useState(0)
  const [isOpen, setOpen] = useState(false)
  const isParted = isOpen || !areRowsAlike(rows)
  const shown = isParted ? Math.min(wish, rows.length - 1) : 0
  const overlap = rows[shown]?.overlapFrames ?? 0
  const divisionUm10 = usePlatters(rimUm10).chosen?.divisionUm10 ?? millimetreUm10
  const frames = useDrawable(rows[shown]?.framesPerTurn ?? null)
  const seen = useMemo(
    () => (rimUm10 !== null ? turnSeen(rimUm10, stepUm10, frames, divisionUm10) : undefined),
    [rimUm10, stepUm10, frames, divisionUm10],
  )
  const hand = { typed, patch, shown, isParted }
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
            overlap={Math.min(overlap, frames)}
            centre={{ figure: String(frames), word: 'frames a turn' }}
            label={`The turn that is quoted${isParted ? `, row ${shown + 1}` : ''}`}
          />
        </div>
        <div className={css.turnFields}>
          <RimFields {...hand} />
          <QuoteRows {...hand} onShow={setWish} onPart={setOpen} />
          {seen ? (
            <p className={css.said} role="status">
              {isParted ? `Row ${shown + 1}: ${seen.sentence}` : seen.sentence}
            </p>
          ) : null}
          <NearTurns {...hand} basis={basis} divisionUm10={divisionUm10} />
        </div>
      </div>
    </Part>
  )
}

/** The frames to draw: the last ones that make a turn stay while the field is empty, so that nothing jumps. */
function useDrawable(framesPerTurn: number | null): number {
  const last = useRef(2)
  if (framesPerTurn !== null && framesPerTurn >= 2 && framesPerTurn <= mostFramesPerTurn) {
    last.current = framesPerTurn
  }
  return last.current
}

/** Rim and step. Rows that have their own frames have them typed, and no step for all of them. */
function RimFields({ typed, patch, isParted }: RowsHand) {
  return (
    <FieldLine>
      <PlatterField {...{ typed, patch }} />
      <LengthField
        kept="um10"
        label="Rim"
        name="rimMm"
        value={typed.rimUm10}
        onChange={(rimUm10) => patch({ rimUm10, ...framesFrom(typed, rimUm10, typed.stepUm10) })}
      />
      {isParted ? null : (
        <LengthField
          kept="um10"
          label="Step along the rim"
          name="stepMm"
          value={typed.stepUm10}
          onChange={(stepUm10) => patch({ stepUm10, ...framesFrom(typed, typed.rimUm10, stepUm10) })}
        />
      )}
    </FieldLine>
  )
}

/** Rows with the frames that rim and step ask for; nothing while one is missing or the step is no step of this rim. */
function framesFrom(
  { rows }: TypedQuote,
  rimUm10: number | null,
  stepUm10: number | null,
): Partial<TypedQuote> {
  if (rimUm10 === null || stepUm10 === null || stepUm10 <= 0 || rimUm10 < 2 * stepUm10) return {}
  const { nearestFrames } = closing(rimUm10, stepUm10)
  return nearestFrames <= mostFramesPerTurn
    ? { rows: rows.map((row) => ({ ...row, framesPerTurn: nearestFrames })) }
    : {}
}

function PlatterField({ typed, patch }: Pick<RowsHand, 'typed' | 'patch'>) {
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
        patch({ rimUm10: platter.rimUm10, ...framesFrom(typed, platter.rimUm10, typed.stepUm10) })
      }}
    />
  )
}

/** The nearest turns that close on this rim, best first; a press takes one. */
function NearTurns(props: RowsHand & { readonly basis: QuoteBasis; readonly divisionUm10: number }) {
  const { typed, basis, patch, divisionUm10 } = props
  const { rimUm10, stepUm10 } = typed
  const framesPerTurn = typed.rows[props.shown]?.framesPerTurn ?? null
  const setSizes = useMemo(() => setSizesOf(basis), [basis])
  const choices = useMemo(
    () =>
      rimUm10 !== null &&
      rimUm10 > 0 &&
      framesPerTurn !== null &&
      framesPerTurn >= 2 &&
      framesPerTurn <= mostFramesPerTurn
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
              onClick={() => patch({ rows: turned(props, { framesPerTurn: choice.frames }), stepUm10: null })}
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
