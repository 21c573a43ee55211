import { type ReactNode, useRef, useState } from 'react'
import type { DrawnRig, Pen, RigDrawing, Stroke } from '../../main/trade/rigDrawing/drawing.ts'
import type { Fit } from '../../main/trade/rigDrawing/fit.ts'
import type { Label } from '../../main/trade/rigDrawing/labels.ts'
import type { Point } from '../../main/trade/rigDrawing/places.ts'
import { planDrawing } from '../../main/trade/rigDrawing/plan.ts'
import { sideDrawing } from '../../main/trade/rigDrawing/side.ts'
import { planSentence, sideSentence } from '../../main/trade/rigDrawing/words.ts'
import css from './rigDrawing.module.css'
import { GripHandle, type RigHand } from './rigGrips.tsx'

export interface RigDrawingProps {
  readonly width: number
  readonly height: number
  /** What it is a drawing of: `Tall glass, revision 3`. */
  readonly label: string
  readonly rig: DrawnRig
  /** One scale for several drawings, in millimetres to a px; without it the drawing fills its frame. */
  readonly mmPerPx?: number
  /** Takes what is dragged or moved by the arrow keys; without it the drawing is only looked at. */
  readonly hand?: RigHand
}

/** Under this width the figures are left out: the drawing is for telling rigs apart. */
const figuresFrom = 220

const letterPx = 11
const lettering = {
  lineHeight: 14,
  // The mono letters are 0.6 of their size wide; the strong first line is no wider.
  widthOf: (text: string) => text.length * letterPx * 0.605 + 2,
}

/** A rig from above, to scale, with its figures; under 220 px of width without them. */
export function RigPlan(props: RigDrawingProps) {
  return <Drawing {...props} view="plan" sentence={planSentence(props.label, props.rig)} draw={planDrawing} />
}

/** A rig from the camera's right, to scale, with its heights. */
export function RigSide(props: RigDrawingProps) {
  return <Drawing {...props} view="side" sentence={sideSentence(props.label, props.rig)} draw={sideDrawing} />
}

function Drawing(
  props: RigDrawingProps & {
    readonly view: 'plan' | 'side'
    readonly sentence: string
    readonly draw: typeof planDrawing
  },
) {
  const { width, height, rig, hand } = props
  // While something is dragged the scale stands still, or the drawing would run from under the finger.
  const [held, setHeld] = useState<Fit>()
  const svg = useRef<SVGSVGElement>(null)
  const drawing = props.draw(rig, {
    width,
    height,
    lettering: width < figuresFrom ? null : lettering,
    mmPer: props.mmPerPx,
    fit: held,
  })
  return (
    <svg
      ref={svg}
      className={css.drawing}
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      role={hand ? 'group' : 'img'}
      aria-label={props.sentence}
    >
      <DrawnLines drawing={drawing} />
      {hand
        ? drawing.grips.map((grip) => (
            <GripHandle
              key={`${grip.of} ${grip.index}`}
              grip={grip}
              view={props.view}
              rig={rig}
              hand={hand}
              pageOf={(event) => pageOf(svg.current, event, width, height)}
              fit={drawing.fit}
              onHold={() => setHeld(drawing.fit)}
              onRelease={() => setHeld(undefined)}
            />
          ))
        : null}
    </svg>
  )
}

/** Where a pointer is on the drawing, however large the page shows it; at the edge where it has left it. */
function pageOf(
  svg: SVGSVGElement | null,
  event: { readonly clientX: number; readonly clientY: number },
  width: number,
  height: number,
): Point {
  const seen = svg?.getBoundingClientRect()
  if (!seen || seen.width === 0) return { x: 0, y: 0 }
  const within = (value: number, most: number) => Math.min(Math.max(value, 0), most)
  return {
    x: within(((event.clientX - seen.left) * width) / seen.width, width),
    y: within(((event.clientY - seen.top) * height) / seen.height, height),
  }
}

const classes: Readonly<Record<Pen, string | undefined>> = {
  platter: css.platter,
  product: css.product,
  axis: css.axis,
  thin: css.thin,
  field: css.field,
  bearing: css.bearing,
  stand: css.stand,
  leader: css.leader,
}

function DrawnLines({ drawing }: { readonly drawing: RigDrawing }): ReactNode {
  const isSolid = ({ pen }: { readonly pen: Pen }) => pen === 'platter' || pen === 'product'
  return (
    <>
      {drawing.rings.map((ring) => (
        <circle key={ring.key} className={classes[ring.pen]} cx={ring.at.x} cy={ring.at.y} r={ring.radius} />
      ))}
      {/* What has a ground of its own lies under the lines. */}
      {[...drawing.strokes.filter(isSolid), ...drawing.strokes.filter((stroke) => !isSolid(stroke))].map(
        (stroke) => (
          <path key={stroke.key} className={classes[stroke.pen]} d={pathOf(stroke)} />
        ),
      )}
      {drawing.labels.map((label) => (
        <Words key={label.key} label={label} />
      ))}
    </>
  )
}

function pathOf({ points, isClosed }: Pick<Stroke, 'points' | 'isClosed'>): string {
  return `M${points.map(({ x, y }) => `${round(x)} ${round(y)}`).join('L')}${isClosed ? 'Z' : ''}`
}

function Words({ label }: { readonly label: Label }) {
  const { box, leader, lines } = label
  const x = round(box.x + box.width / 2)
  return (
    <>
      {leader ? <path className={css.leader} d={pathOf({ points: leader })} /> : null}
      <text className={css.text} textAnchor="middle">
        {lines.map((line, index) => (
          <tspan
            key={line}
            className={index > 0 ? css.quiet : undefined}
            x={x}
            y={round(box.y + (index + 0.78) * lettering.lineHeight)}
          >
            {line}
          </tspan>
        ))}
      </text>
    </>
  )
}

function round(value: number): number {
  return Math.round(value * 100) / 100
}
