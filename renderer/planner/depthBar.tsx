import { mmText } from './figures.ts'
import type { PictureView } from './pictureView.ts'
import css from './planner.module.css'
import type { SharpView } from './sharpView.ts'

/**
 * Distances from the lens on one line: what is sharp as a band, what the product sweeps as a bracket over it,
 * the focus as a mark.
 */
export function DepthBar(props: { readonly sharp: SharpView; readonly outline: PictureView['outline'] }) {
  const { depth, sweep } = props.sharp
  const { nearMm, farMm } = props.outline
  // Twice the sweep is in view; what is sharp beyond runs off the edge.
  const spare = (farMm - nearMm) / 2
  const [from, to] = [Math.max(0, nearMm - spare), farMm + spare]
  const at = (mm: number) => `${((Math.min(Math.max(mm, from), to) - from) / (to - from)) * 100}%`
  const wide = (a: number, b: number) =>
    `${((Math.min(Math.max(b, from), to) - Math.min(Math.max(a, from), to)) / (to - from)) * 100}%`
  const words = `Sharp from ${mmText(depth.nearMm)} to ${mmText(depth.farMm)} from the lens; the product sweeps ${mmText(nearMm)} to ${mmText(farMm)}; focus at ${mmText(sweep.focusMm)}`
  return (
    <figure className={css.depth}>
      <svg className={css.depthBar} role="img" aria-label={words}>
        <line className={css.depthAxis} x1="0" x2="100%" y1="26" y2="26" />
        <rect
          className={css.sharpBand}
          x={at(depth.nearMm)}
          width={wide(depth.nearMm, depth.farMm)}
          y="20"
          height="12"
        />
        <line className={css.sweepLine} x1={at(nearMm)} x2={at(farMm)} y1="10" y2="10" />
        <line className={css.sweepLine} x1={at(nearMm)} x2={at(nearMm)} y1="6" y2="36" />
        <line className={css.sweepLine} x1={at(farMm)} x2={at(farMm)} y1="6" y2="36" />
        <line className={css.focusLine} x1={at(sweep.focusMm)} x2={at(sweep.focusMm)} y1="14" y2="38" />
        <text className={css.drawn} x={at(nearMm)} y="50" textAnchor="middle">
          {mmText(nearMm)}
        </text>
        <text className={css.drawn} x={at(sweep.focusMm)} y="50" textAnchor="middle">
          focus
        </text>
        <text className={css.drawn} x={at(farMm)} y="50" textAnchor="middle">
          {mmText(farMm)}
        </text>
      </svg>
      <figcaption className={css.note}>
        Bracket: what the product sweeps. Band: what is sharp to a delivered pixel.
      </figcaption>
    </figure>
  )
}
