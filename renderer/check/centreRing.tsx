import { numberText, withUnit } from '../parts/format.ts'
import { Ring } from '../parts/ring.tsx'
import { onCircle, type Tape } from '../parts/ringGeometry.ts'
import css from './aids.module.css'

/** How far the product stands off the axis, and where to push it: seen from above, on the platter's own marks. */
export interface Nudge {
  readonly offset: number
  readonly error: number
  readonly unit: 'mm' | 'px'
  /** The mark to push it towards, counted from 1, and its bearing on the ring, in degrees from the start mark. */
  readonly mark: number
  readonly bearingDeg: number
}

/** Where an offset is drawn: to scale up to a fifth of the ring, larger ones at its end. */
const pxPerMm = 12

/**
 * The ring with the axis in its middle, the product's middle beside it with the error bar as a circle, and the way to
 * the mark that it is pushed towards. The offset is drawn larger than the ring, or nobody would see it: the words say so.
 */
export function CentreRing(props: {
  readonly size: number
  readonly framesPerTurn: number
  readonly tape: Tape | undefined
  /** Marks at which the quick frames are shot, counted from 1. */
  readonly shotAt: readonly number[]
  readonly nudge: Nudge | undefined
  readonly label: string
}) {
  const { size, nudge } = props
  return (
    <div className={css.ring} style={{ width: size, height: size }}>
      <Ring
        size={size}
        framesPerTurn={props.framesPerTurn}
        {...(props.tape ? { tape: props.tape } : {})}
        faults={props.shotAt.map((frame) => ({ frame, kind: 'a quick frame' }))}
        label={props.label}
        sentence={sentenceOf(props)}
      />
      <svg className={css.over} width={size} height={size} viewBox={`0 0 ${size} ${size}`} aria-hidden="true">
        {nudge ? <OffAxis size={size} nudge={nudge} /> : null}
        <path className={css.axis} d={`M${size / 2 - 9} ${size / 2}h18M${size / 2} ${size / 2 - 9}v18`} />
      </svg>
    </div>
  )
}

function OffAxis({ size, nudge }: { readonly size: number; readonly nudge: Nudge }) {
  const centre = size / 2
  const longest = size * 0.2
  const away = Math.min(longest, nudge.offset * pxPerMm)
  const product = onCircle(centre, away, nudge.bearingDeg + 180)
  const bar = Math.max(3, Math.min(longest, nudge.error * pxPerMm))
  const rim = onCircle(centre, size / 2 - 62, nudge.bearingDeg)
  const [left, right] = [150, 210].map((turn) => {
    const angle = ((nudge.bearingDeg + turn) * Math.PI) / 180
    return { x: rim.x + 14 * Math.sin(angle), y: rim.y - 14 * Math.cos(angle) }
  })
  return (
    <>
      <circle className={css.bar} cx={product.x} cy={product.y} r={bar} />
      <circle className={css.product} cx={product.x} cy={product.y} r={5} />
      <path
        className={css.way}
        d={`M${product.x} ${product.y}L${rim.x} ${rim.y}M${left?.x} ${left?.y}L${rim.x} ${rim.y}L${right?.x} ${right?.y}`}
      />
    </>
  )
}

function sentenceOf({ nudge, label, shotAt }: Parameters<typeof CentreRing>[0]): string {
  if (!nudge) {
    return shotAt.length > 0 ? `${label}, quick frames at marks ${shotAt.join(', ')}` : label
  }
  return `${label}: ${withUnit(nudge.offset, nudge.unit, 1)} off the axis, give or take ${withUnit(nudge.error, nudge.unit, 1)}, to be pushed towards mark ${numberText(nudge.mark)}`
}
