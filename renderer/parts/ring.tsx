import { countText } from './format.ts'
import css from './ring.module.css'
import { arcPath, markAngles, markEvery, onCircle, openSeam, type Tape, ticksPath } from './ringGeometry.ts'

/** A fault at one frame; frames count from 1 and go on into the overlap. */
export interface RingFault {
  readonly frame: number
  readonly kind: string
}

export interface RingProps {
  /** Width and height in px; from 200 the tape's marks and numbers are drawn, under 72 only what counts. */
  readonly size: number
  /** Frames per turn, a whole number, 1 or more. */
  readonly framesPerTurn: number
  /** The tape's readings and rim in one unit; without it the marks are even. */
  readonly tape?: Tape
  /** Frames shot so far, overlap included. */
  readonly done?: number
  /** Frames shot past the full turn. */
  readonly overlap?: number
  readonly faults?: readonly RingFault[]
  /** The rim turns red: for what is late or lost, nothing else. */
  readonly late?: boolean
  /** The frame whose mark stands under the pointer; 1 where the drawing is at rest. */
  readonly underPointer?: number
  /** One number and its word, in the middle. */
  readonly centre?: { readonly figure: string; readonly word?: string }
  /** Said before the drawing's own sentence: what it is the ring of. '' hides it where text beside says all. */
  readonly label?: string
  /** In place of the drawing's own sentence, where it counts something else than frames: spins of a job. */
  readonly sentence?: string
}

/**
 * The picture that carries the program: a rim with its marks true to scale. Shot frames are a band on the rim,
 * the overlap an arc outside it, an open seam a gap with two edges, faults are knobs at their frames.
 */
export function Ring(props: RingProps) {
  const { size, framesPerTurn, done = 0, overlap = 0, faults = [] } = props
  const angles = markAngles(framesPerTurn, props.tape)
  const isSmall = size < 72
  const isFull = size >= 200
  const centre = size / 2
  const radius = isSmall ? centre - 4 : isFull ? centre - 22 : centre - 8
  const band = isSmall ? 3 : isFull ? 5 : 4
  const outside = radius + band / 2 + (isSmall ? 2.25 : isFull ? 7 : 3.5)
  const step = 360 / framesPerTurn
  const angleOf = (frame: number) => (frame <= framesPerTurn ? (angles[frame - 1] ?? 0) : (frame - 1) * step)
  const shotTo = done >= framesPerTurn ? 360 : done > 0 ? Math.max(angleOf(done), step / 2) : 0
  const overlapDone = Math.max(0, Math.min(overlap, done - framesPerTurn))
  const seam = isSmall ? undefined : openSeam(angles)
  const turn = -angleOf(props.underPointer ?? 1)
  return (
    <svg
      className={props.late ? `${css.ring} ${css.late}` : css.ring}
      width={size}
      height={size}
      viewBox={`0 0 ${size} ${size}`}
      role="img"
      aria-label={props.sentence ?? ringSentence(props)}
      aria-hidden={props.label === '' || undefined}
    >
      <g transform={turn === 0 ? undefined : `rotate(${turn} ${centre} ${centre})`}>
        <circle className={css.rim} cx={centre} cy={centre} r={radius} />
        {isSmall ? null : <Marks {...{ angles, centre, radius, done, faults, isFull }} />}
        <path className={css.band} strokeWidth={band} d={arcPath(centre, radius, 0, shotTo)} />
        <path className={css.overlap} d={arcPath(centre, outside, 0, overlap * step)} />
        {overlap > 0 && !isSmall ? (
          <path
            className={css.overlap}
            d={ticksPath(centre, outside - 3, outside + 3, [0, overlap * step])}
          />
        ) : null}
        <path
          className={css.band}
          strokeWidth={isSmall ? 2 : band}
          d={arcPath(centre, outside, 0, overlapDone * step)}
        />
        {seam ? (
          <path
            className={css.seam}
            d={`${ticksPath(centre, radius - 14, radius + 12, [seam.from, seam.to])}${arcPath(centre, radius + 12, seam.from, seam.to)}`}
          />
        ) : null}
        {faults.map((fault) => (
          <Fault
            key={`${fault.frame} ${fault.kind}`}
            {...{ fault, centre, isSmall, isFull }}
            radius={fault.frame > framesPerTurn ? outside : radius}
            angle={angleOf(fault.frame)}
          />
        ))}
      </g>
      {isFull ? <path className={css.pointer} d={`M${centre} ${centre - radius + 6}l-5 -26h10z`} /> : null}
      {props.centre ? <Centre size={size} {...props.centre} /> : null}
    </svg>
  )
}

function Marks(props: {
  readonly angles: readonly number[]
  readonly centre: number
  readonly radius: number
  readonly done: number
  readonly faults: readonly RingFault[]
  readonly isFull: boolean
}) {
  const { angles, centre, radius, isFull } = props
  const frames = angles.length
  const every = markEvery(frames, radius, 4)
  const longEvery = Math.max(10, markEvery(frames, radius, 9))
  // The first frame stands at the start mark; from there on whole tens are marked, as on a tape.
  const at = (every: number) => angles.filter((_, index) => index === 0 || (index + 1) % every === 0)
  // A long mark at the turn's last frame would double the start mark.
  const isApart = (angle: number) => angle === 0 || 360 - angle >= (longEvery / frames) * 180
  const ticks = (chosen: readonly number[]) => ticksPath(centre, radius - 9, radius - 3, chosen)
  const shotBefore = angles[props.done] ?? 360
  return (
    <>
      {isFull ? <path className={css.tick} d={ticks(at(every))} /> : null}
      <path
        className={`${css.tick} ${css.tenth}`}
        d={ticksPath(centre, radius - (isFull ? 16 : 7), radius - 3, at(longEvery).filter(isApart))}
      />
      {isFull ? (
        <>
          <path
            className={`${css.tick} ${css.shot}`}
            d={ticks(at(every).filter((angle) => props.done > 0 && angle < shotBefore))}
          />
          <Numbers {...props} />
        </>
      ) : null}
    </>
  )
}

/** Frame numbers along the tape, left out where a fault's own number stands or the next one is too near. */
function Numbers(props: {
  readonly angles: readonly number[]
  readonly centre: number
  readonly radius: number
  readonly faults: readonly RingFault[]
}) {
  const { angles, centre, radius, faults } = props
  const every = Math.max(10, markEvery(angles.length, radius - 34, 38))
  return angles.map((angle, index) => {
    const frame = index + 1
    const isTurn = frame === 1 || (frame % every === 0 && angles.length - frame >= every / 2)
    if (!isTurn || faults.some((fault) => Math.abs(fault.frame - frame) < every / 2)) return null
    return <RimNumber key={frame} frame={frame} {...{ angle, centre }} radius={radius - 28} />
  })
}

function RimNumber(props: {
  readonly frame: number
  readonly angle: number
  readonly centre: number
  readonly radius: number
  readonly isFault?: boolean
}) {
  const place = onCircle(props.centre, props.radius, props.angle)
  return (
    <text
      className={props.isFault ? `${css.number} ${css.faultNumber}` : css.number}
      transform={`translate(${place.x} ${place.y}) rotate(${props.angle}) translate(0 4)`}
    >
      {props.frame}
    </text>
  )
}

function Fault(props: {
  readonly fault: RingFault
  readonly angle: number
  readonly centre: number
  readonly radius: number
  readonly isSmall: boolean
  readonly isFull: boolean
}) {
  const { fault, angle, centre, radius } = props
  const place = onCircle(centre, radius, angle)
  const end = onCircle(centre, radius - 30, angle)
  return (
    <g>
      <title>{`Frame ${fault.frame}: ${fault.kind}`}</title>
      {props.isFull ? (
        <>
          <line className={css.faultLine} x1={place.x} y1={place.y} x2={end.x} y2={end.y} />
          <RimNumber frame={fault.frame} {...{ angle, centre }} radius={radius - 42} isFault />
        </>
      ) : null}
      <circle className={css.fault} cx={place.x} cy={place.y} r={props.isSmall ? 2 : 4.5} />
    </g>
  )
}

function Centre(props: { readonly size: number; readonly figure: string; readonly word?: string }) {
  const { size, figure, word } = props
  const figureSize = size * (figure.length > 4 ? 0.17 : 0.24)
  return (
    <>
      <text
        className={css.figure}
        x={size / 2}
        y={size / 2 + figureSize * (word ? 0.22 : 0.35)}
        fontSize={figureSize}
      >
        {figure}
      </text>
      {word ? (
        <text
          className={css.word}
          x={size / 2}
          y={size / 2 + figureSize * 0.62}
          fontSize={Math.max(12, size * 0.042)}
        >
          {word}
        </text>
      ) : null}
    </>
  )
}

/** What the drawing shows, in a sentence; the text alternative of `Ring`. */
export function ringSentence(props: Omit<RingProps, 'size'>): string {
  const { label, framesPerTurn, done, overlap = 0, faults = [] } = props
  const faultList = faults.map((fault) => `${fault.kind} at frame ${fault.frame}`).join(', ')
  const parts = [
    label,
    `${countText(framesPerTurn, 'frame')} to the turn`,
    overlap > 0 && `${overlap} more as overlap`,
    done !== undefined && `${done} shot`,
    openSeam(markAngles(framesPerTurn, props.tape)) && 'the seam is open',
    faultList,
    props.late && 'late',
  ]
  return parts.filter(Boolean).join(', ')
}
