import { Refusal } from '../refusal.ts'
import { checkOver0, checkViewAngle } from './guard.ts'

/** A turning product as its camera sees it. */
export interface SweptView {
  /** Twice the farthest point from the axis. */
  readonly sweptMm: number
  readonly heightMm: number
  /** From the lens to the product's middle on the axis. */
  readonly distanceMm: number
  /** How far the camera looks down on the product: 0 is level, 90 straight from above. */
  readonly viewAngleDeg: number
}

/** The outline of the swept cylinder in the plane through its middle, in mm, and how deep it reaches. */
export interface SweptOutline {
  readonly widthMm: number
  readonly heightMm: number
  /** Of the height, what lies above and below the lens's axis. */
  readonly aboveMm: number
  readonly belowMm: number
  /** Distance from the lens to the nearest and to the farthest part of the cylinder, along the lens's axis. */
  readonly nearMm: number
  readonly farMm: number
}

/**
 * The outline that a product fills while it turns: the picture of the swept cylinder seen from a point at its
 * distance, aimed at its middle. It is larger than swept width × height, since its near side is closer.
 * Exact: the outline of a cylinder is that of its two end circles. Refuses a product that reaches the lens.
 */
export function sweptOutline(view: SweptView): SweptOutline {
  const { sweptMm, heightMm, distanceMm, viewAngleDeg } = view
  checkOver0(sweptMm, 'The swept width', 'sweptMm')
  checkOver0(heightMm, 'The height', 'heightMm')
  checkOver0(distanceMm, 'The distance', 'distanceMm')
  checkViewAngle(viewAngleDeg)
  const radius = sweptMm / 2
  const tilt = (viewAngleDeg * Math.PI) / 180
  const [sin, cos] = [Math.sin(tilt), Math.cos(tilt)]
  const reach = radius * cos + (heightMm / 2) * Math.abs(sin)
  if (reach >= distanceMm) {
    throw new Refusal(
      'product-at-lens',
      `A product ${sweptMm} mm wide and ${heightMm} mm high would touch the lens at ${distanceMm} mm. Move the camera back, or correct the size.`,
      { field: 'distanceMm' },
    )
  }
  // A point of an end circle seen at c = cos of its bearing: both are monotone in c, so the ends are extreme.
  const heights = [heightMm / 2, -heightMm / 2].flatMap((z) =>
    [1, -1].map(
      (c) => (distanceMm * (z * cos - radius * c * sin)) / (distanceMm - z * sin - radius * c * cos),
    ),
  )
  // The tangents to the end circle nearer to the lens.
  const toCircle = distanceMm - (heightMm / 2) * Math.abs(sin)
  const aboveMm = Math.max(...heights)
  const belowMm = -Math.min(...heights)
  return {
    widthMm: (2 * distanceMm * radius) / Math.sqrt(toCircle ** 2 - (radius * cos) ** 2),
    heightMm: aboveMm + belowMm,
    aboveMm,
    belowMm,
    nearMm: distanceMm - reach,
    farMm: distanceMm + reach,
  }
}

/** How much of a delivered picture the outline fills. */
export interface FrameFill {
  /** Outline ÷ field, of the width and of the height; over 1 the product is cut off. */
  readonly widthPart: number
  readonly heightPart: number
  /** The larger of the two: what a brief's 'fill' speaks of. */
  readonly part: number
  /** Whether the whole turn stays inside a picture centred on the product's middle. */
  readonly fits: boolean
}

/** Fill of a field (the crop's sides ÷ magnification, in mm) by a swept outline. */
export function frameFill(
  outline: SweptOutline,
  field: { readonly widthMm: number; readonly heightMm: number },
): FrameFill {
  checkOver0(field.widthMm, 'The width of the field', 'fieldWidthMm')
  checkOver0(field.heightMm, 'The height of the field', 'fieldHeightMm')
  const widthPart = outline.widthMm / field.widthMm
  const heightPart = outline.heightMm / field.heightMm
  return {
    widthPart,
    heightPart,
    part: Math.max(widthPart, heightPart),
    fits: widthPart <= 1 && 2 * Math.max(outline.aboveMm, outline.belowMm) <= field.heightMm,
  }
}
