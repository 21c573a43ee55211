import { numberText, withUnit } from '../parts/format.ts'
import type { AidStand } from './aidPage.tsx'
import css from './aids.module.css'
import type { Nudge } from './centreRing.tsx'

/** Where the product stands and which way to push it. Marks count from 0 here. */
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
  return { offset, error, unit, mark: nudge.towardsMark + 1, bearingDeg: nudge.towardsDeg }
}

/** `Push it 2.3 mm towards mark 61` in large; under it how sure that is, what it rests on, and how to push. */
export function CentreTold(props: {
  readonly found: OffCentre
  readonly about: AidStand
  /** What was measured, as it ends a sentence. */
  readonly by: string
}) {
  const { offset, error, unit, nudge } = props.found
  const isCentred = unit === 'mm' && offset - error <= props.about.centreUm / 1000
  const figure = withUnit(offset, unit, 1)
  return (
    <div role="status">
      <p className={css.verdict}>
        {isCentred
          ? 'It stands in the middle.'
          : `Push it ${figure} towards ${markText(nudge.towardsMark, props.about)}.`}
      </p>
      <p>{`${figure} off the axis, give or take ${withUnit(error, unit, 1)}, ${props.by}.`}</p>
      {unit === 'px' ? (
        <p>In pixels of the small frame: say what the picture’s long side spans, and it is told in mm.</p>
      ) : null}
      <p className={css.quiet}>
        {isCentred
          ? `Within ${withUnit(props.about.centreUm / 1000, 'mm')}, the limit under Studio.`
          : `With ${markText(nudge.farthestRightMark, props.about)} at the pointer that is to the left in the picture. Push at its foot, with both hands where it is heavy or fragile, and hold the platter still. The drawing shows the way larger than it is.`}
      </p>
    </div>
  )
}

/** `mark 61, 305 mm`: as the bench counts, from 1. */
function markText(index: number, { marksMm }: AidStand): string {
  const readingMm = marksMm?.[index]
  return `mark ${numberText(index + 1)}${readingMm === undefined ? '' : ` (${withUnit(readingMm, 'mm', 4)})`}`
}
