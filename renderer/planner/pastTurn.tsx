import { memo } from 'react'
import { Button } from '../parts/button.tsx'
import { FieldLine } from '../parts/form.tsx'
import { countText, durationText, moneyText } from '../parts/format.ts'
import type { Plan } from './plan.ts'
import css from './planner.module.css'
import { Typing, usePlannerHand } from './plannerFields.tsx'
import { useFirstRowLabel } from './rowsFields.tsx'
import { areRowsAlike, ofRow, type TurnView } from './turnView.ts'

/** What is shot past the turn: a few closing frames, or a third of it and what that costs. */
export const PastTurn = memo(function PastTurn({ turn, cost }: Pick<Plan, 'turn' | 'cost'>) {
  const { patch } = usePlannerHand()
  const overlapLabel = useFirstRowLabel('Overlap')
  const third = turn.thirdOfTurn
  const isMore = third > turn.overlap
  const price =
    cost && isMore
      ? `, ${durationText(cost.thirdMs / 60_000)} more turning${cost.spins > 1 ? ` for all ${countText(cost.spins, 'spin')}` : ''}${cost.thirdMinor ? ` at a cost of ${moneyText(cost.thirdMinor, cost.currency)}` : ''}`
      : ''
  return (
    <div className={css.stack}>
      <h3>Past the full turn</h3>
      <FieldLine>
        <Typing name="overlap" label={overlapLabel} unit="frames" />
      </FieldLine>
      <p>
        {`${turn.framesToShoot} frames to shoot: ${shotText(turn)}. Where the marks close, one to three closing frames cover a slip.`}
      </p>
      {third > 0 ? (
        <p className={css.said}>
          <Button kind="quiet" disabled={!isMore} onClick={() => patch({ [turn.overlapKey]: String(third) })}>
            {`Overlap a third of the turn${ofRow(turn)}: ${third} frames`}
          </Button>
          <span className={css.note}>{isMore ? `for loops cut freely${price}` : 'is what is planned'}</span>
        </p>
      ) : null}
    </div>
  )
})

/** '244 and 3 past the turn', '2 rows of …', or each row's own where they differ. */
function shotText(turn: TurnView): string {
  const { rows, frames, overlap } = turn
  if (areRowsAlike(turn)) {
    return `${rows.length === 1 ? '' : `${rows.length} rows of `}${frames} and ${overlap} past the turn`
  }
  return rows
    .map((row, index) => `${row.frames} and ${row.overlap} past the turn in row ${index + 1}`)
    .join(', ')
}
