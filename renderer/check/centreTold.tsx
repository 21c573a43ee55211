import { centreStanding, pushCaution } from '../../main/trade/check/centre/centreWords.ts'
import { ringMark } from '../../main/trade/check/centre/nudge.ts'
import { numberText, withUnit } from '../parts/format.ts'
import type { AidStand } from './aidPage.tsx'
import css from './aids.module.css'
import type { Nudge } from './centreRing.tsx'

/** Where the product stands and which way to push it. Marks are counted from 0. */
export interface OffCentre {
  readonly offset: number
  readonly error: number
  readonly unit: 'mm' | 'px'
  readonly nudge: {
    readonly towardsDeg: number
    readonly towardsMark: number
    readonly farthestRightMark: number
  }
}

/** The same as the ring draws it. */
export function nudgeOnRing({ offset, error, unit, nudge }: OffCentre): Nudge {
  return { offset, error, unit, mark: ringMark(nudge.towardsMark), bearingDeg: nudge.towardsDeg }
}

/** `Push it 2.3 mm towards mark 61` in large; under it how sure that is, what it rests on, and how to push. */
export function CentreTold(props: {
  readonly found: OffCentre
  readonly about: AidStand
  /** What was measured, as it ends a sentence. */
  readonly by: string
}) {
  const { offset, error, unit, nudge } = props.found
  const { centreUm } = props.about
  const standing = centreStanding(props.found, centreUm)
  const figure = withUnit(offset, unit, 1)
  const isPushed = error < offset / 2 && standing !== 'within'
  return (
    <div role="status">
      <p className={css.verdict}>
        {isPushed
          ? `Push it ${figure} towards ${markText(nudge.towardsMark, props.about)}.`
          : standing === 'within'
            ? 'It stands in the middle.'
            : 'As near the middle as can be told.'}
      </p>
      <p>{`${figure} off the axis, give or take ${withUnit(error, unit, 1)}, ${props.by}.`}</p>
      {unit === 'px' ? (
        <p>In pixels of the small frame: say what the picture’s long side spans, and it is told in mm.</p>
      ) : null}
      <p className={css.quiet}>
        {!isPushed
          ? standing === 'within'
            ? `Within ${withUnit(centreUm / 1000, 'mm')}, the limit under Studio.`
            : 'It is more unsure than it is off: which way to push it cannot be told.'
          : `With ${markText(nudge.farthestRightMark, props.about)} at the pointer that is to the left in the picture. ${pushCaution} The drawing shows the way larger than it is.`}
      </p>
    </div>
  )
}

/** `mark 61 (305 mm)`. */
function markText(index: number, { marksMm }: AidStand): string {
  const readingMm = marksMm?.[index]
  return `mark ${numberText(ringMark(index))}${readingMm === undefined ? '' : ` (${withUnit(readingMm, 'mm', 4)})`}`
}
