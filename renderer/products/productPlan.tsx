import { type ProductSize, sweptWidthMm } from '../../main/trade/product.ts'
import { withUnit } from '../parts/format.ts'
import css from './products.module.css'

/**
 * The product from above inside the circle it sweeps, true to its proportions: box or disc, the axis as a
 * cross. Nothing where the swept width is not known.
 */
export function ProductPlan({ size }: { readonly size: ProductSize }) {
  const sweptMm = sweptWidthMm(size)
  if (sweptMm === null) return null
  const radius = 100
  const scale = (2 * radius) / sweptMm
  const [width, depth] = [(size.widthMm ?? 0) * scale, (size.depthMm ?? 0) * scale]
  return (
    <svg
      className={css.plan}
      viewBox="-112 -112 224 224"
      role="img"
      aria-label={`From above: ${size.plan === 'measured' ? 'sweeps' : `${size.plan}, sweeps`} ${withUnit(sweptMm, 'mm', 1)}`}
    >
      <circle r={radius} className={css.swept} />
      {size.plan === 'round' ? (
        <ellipse rx={width / 2} ry={depth / 2} className={css.outline} />
      ) : width > 0 && depth > 0 ? (
        <rect x={-width / 2} y={-depth / 2} width={width} height={depth} className={css.outline} />
      ) : null}
      <path d="M-6 0h12M0 -6v12" className={css.axis} />
    </svg>
  )
}
