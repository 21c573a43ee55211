import { memo } from 'react'
import { FieldLine } from '../parts/form.tsx'
import { degreesText, pxText } from './figures.ts'
import type { Plan } from './plan.ts'
import css from './planner.module.css'
import { Typing } from './plannerFields.tsx'
import { pxOfDegrees } from './smoothView.ts'
import { ofRow } from './turnView.ts'

/** Which sets come out even, and the seam of those that do not. */
export const FrameSets = memo(function FrameSets({
  sets,
  smooth,
  turn,
}: Pick<Plan, 'sets' | 'smooth' | 'turn'>) {
  const gaps =
    sets.shortestGap === sets.longestGap
      ? `every ${sets.longestGap} frames, evenly`
      : `every ${sets.shortestGap} or ${sets.longestGap} frames, spread as evenly as they can be`
  const seam = sets.isSeamEven
    ? 'and the seam is like the rest'
    : `but at the seam ${degreesText(sets.seamDeg)}, ${pxText(pxOfDegrees(smooth, sets.seamDeg))} on screen, instead of ${degreesText(sets.nthGapDeg)}, ${pxText(pxOfDegrees(smooth, sets.nthGapDeg))}`
  return (
    <div className={css.stack}>
      <h3>{`Frame sets out of the turn${ofRow(turn)}`}</h3>
      <p>
        {sets.even.length > 0
          ? `Sets of ${sets.even.join(', ')} come out even.`
          : 'No usual set comes out even.'}
        {sets.uneven.length > 0 ? ` ${sets.uneven.join(', ')} do not.` : ''}
      </p>
      <FieldLine>
        <Typing name="set" label="Frames of the set" />
        <Typing name="nth" label="Or one frame in" />
      </FieldLine>
      <p>{`${sets.size} of ${turn.frames}: ${gaps}.`}</p>
      <p>{`One in ${sets.nth}: ${sets.nthCount} frames, ${degreesText(sets.nthGapDeg)} apart, ${seam}.`}</p>
    </div>
  )
})
