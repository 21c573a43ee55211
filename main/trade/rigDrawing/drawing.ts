import type { Fit } from './fit.ts'
import type { Label, Lettering } from './labels.ts'
import type { Point } from './places.ts'

/** A camera as it is drawn: level distance from the axis, height over the platter, and what it sees there. */
export interface DrawnCamera {
  readonly distanceMm: number
  readonly heightMm: number
  /** More than 0 looks down. */
  readonly tiltDeg: number
  /** The field at the axis, where the sensor is known. */
  readonly fieldWidthMm: number | null
  readonly fieldHeightMm: number | null
}

/** A light as it is drawn; its letter is its place in the list. */
export interface DrawnLight {
  /** Its place in the list, from 0; lights that are not typed in yet are not drawn. */
  readonly index: number
  readonly letter: string
  readonly bearingDeg: number
  readonly distanceMm: number
  readonly heightMm: number
  /** More than 0 falls from above. */
  readonly elevationDeg: number
}

/** A rig as its drawings need it; parts that are not known yet are null or left out. */
export interface DrawnRig {
  /** 0 where no platter is chosen. */
  readonly platterDiameterMm: number
  readonly camera: DrawnCamera | null
  /** Where else the camera stands, for further rows. */
  readonly rows: readonly {
    readonly row: number
    readonly distanceMm: number
    readonly heightMm: number
    readonly viewAngleDeg: number
  }[]
  readonly lights: readonly DrawnLight[]
  readonly product: { readonly sweptMm: number; readonly heightMm: number } | null
}

/** How a line is drawn; screen and paper each have their own colours and widths for it. */
export type Pen = 'platter' | 'product' | 'axis' | 'thin' | 'field' | 'bearing' | 'stand' | 'leader'

/** A line through points of the page; closed where it comes back to its start. */
export interface Stroke {
  readonly key: string
  readonly pen: Pen
  readonly points: readonly Point[]
  readonly isClosed?: boolean
}

export interface Ring {
  readonly key: string
  readonly pen: Pen
  readonly at: Point
  readonly radius: number
}

/** A place that can be taken hold of. */
export interface Grip {
  readonly of: 'camera' | 'aim' | 'light'
  /** Which light; 0 for the others. */
  readonly index: number
  readonly at: Point
}

/** A drawing in units of its page: the same for the screen and for paper. */
export interface RigDrawing {
  readonly width: number
  readonly height: number
  readonly fit: Fit
  readonly strokes: readonly Stroke[]
  readonly rings: readonly Ring[]
  readonly labels: readonly Label[]
  readonly grips: readonly Grip[]
}

/** The page a rig is drawn on. Without lettering no figures are drawn. */
export interface DrawingPage {
  readonly width: number
  readonly height: number
  readonly lettering: Lettering | null
  /** One scale for several drawings: millimetres to a unit of the page. */
  readonly mmPer?: number | undefined
  /** Holds scale and place while something is dragged. */
  readonly fit?: Fit | undefined
}

/** The room that figures take round the drawing. */
export function marginsOf({ width, lettering }: DrawingPage): {
  readonly marginX: number
  readonly marginY: number
} {
  if (!lettering) return { marginX: 14, marginY: 12 }
  return {
    marginX: Math.min(lettering.widthOf('A 000° 0,000 mm'), width / 4),
    marginY: lettering.lineHeight * 2.4,
  }
}

/** A figure in whole millimetres with its unit, held together. */
export function mmLabel(mm: number): string {
  const whole = Math.round(Math.abs(mm))
  return `${mm < 0 && whole > 0 ? '−' : ''}${String(whole).replace(/\B(?=(\d{3})+$)/gu, ',')}\u00a0mm`
}

/** A figure in degrees, to a half where it has one. */
export function degreesLabel(degrees: number): string {
  return `${Math.round(degrees * 10) / 10}°`.replace('-', '−')
}

/** A dimension: a line with a slanting tick at either end. */
export function dimension(key: string, from: Point, to: Point): readonly Stroke[] {
  const tick = (at: Point, end: string): Stroke => ({
    key: `${key} ${end}`,
    pen: 'thin',
    points: [
      { x: at.x - 4, y: at.y + 4 },
      { x: at.x + 4, y: at.y - 4 },
    ],
  })
  return [{ key, pen: 'thin', points: [from, to] }, tick(from, 'from'), tick(to, 'to')]
}

/** The cross on the platter's axis. */
export function axisCross({ axis }: Fit): readonly Stroke[] {
  const { x, y } = axis
  return [
    {
      key: 'axis across',
      pen: 'axis',
      points: [
        { x: x - 5, y },
        { x: x + 5, y },
      ],
    },
    {
      key: 'axis along',
      pen: 'axis',
      points: [
        { x, y: y - 5 },
        { x, y: y + 5 },
      ],
    },
  ]
}

/** A stroke across the end of a line, where something stands and faces along it. */
export function standStroke(key: string, at: Point, facing: Point, half: number): Stroke {
  const length = Math.hypot(facing.x, facing.y) || 1
  const across = { x: (-facing.y / length) * half, y: (facing.x / length) * half }
  return {
    key,
    pen: 'stand',
    points: [
      { x: at.x - across.x, y: at.y - across.y },
      { x: at.x + across.x, y: at.y + across.y },
    ],
  }
}
