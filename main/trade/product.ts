import { Refusal } from './refusal.ts'

/** How a product's surface takes light; it decides the handling and the cleaning, not the retouching. */
export const finishes = ['matt', 'satin', 'gloss', 'mirror', 'clear', 'textile'] as const
export type Finish = (typeof finishes)[number]

/** The outline of a product seen from above: what its swept width is worked out from. */
export const plans = ['round', 'box', 'measured'] as const
export type Plan = (typeof plans)[number]

export const sizeClasses = ['small', 'medium', 'large'] as const
export type SizeClass = (typeof sizeClasses)[number]

/** The sizes of a product as far as they are known, in mm. */
export interface ProductSize {
  readonly plan: Plan
  readonly widthMm: number | null
  readonly depthMm: number | null
  readonly heightMm: number | null
  readonly sweptMm: number | null
}

/**
 * The swept width in mm: twice the farthest point from the axis. The diameter for round goods, the diagonal
 * for a box, the person's own reading where the plan is measured; null where a size is still unknown.
 */
export function sweptWidthMm({ plan, widthMm, depthMm, sweptMm }: ProductSize): number | null {
  if (plan === 'measured') return sweptMm
  if (widthMm === null || depthMm === null) return null
  return plan === 'round' ? Math.max(widthMm, depthMm) : Math.hypot(widthMm, depthMm)
}

/**
 * The size class by the larger of swept width and height: small up to `smallMaxMm`, medium up to
 * `mediumMaxMm`, large above. A product of unknown size counts as medium, and a quote says so.
 */
export function sizeClassOf(size: ProductSize, smallMaxMm: number, mediumMaxMm: number): SizeClass {
  if (!(smallMaxMm > 0 && mediumMaxMm > smallMaxMm)) {
    throw new Refusal(
      'size-limits',
      `The size limits, ${smallMaxMm} mm and ${mediumMaxMm} mm, must rise. Correct them under Studio.`,
    )
  }
  const largest = Math.max(sweptWidthMm(size) ?? 0, size.heightMm ?? 0)
  if (largest === 0) return 'medium'
  if (largest <= smallMaxMm) return 'small'
  return largest <= mediumMaxMm ? 'medium' : 'large'
}
