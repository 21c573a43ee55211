import type { CheckedTake } from '../../main/trade/check/checkedTake.ts'
import { noSettings } from '../../main/trade/check/files/exifSettings.ts'
import { traceOf } from '../../main/trade/check/outline/trace.ts'
import { reportOf, type SeenFrame } from '../../main/trade/check/reportOf.ts'
import { type DrawnTake, drawTake, type Place, randomOf, type SolidKind, turnAngles } from './render.ts'

/** The limits that a new studio starts from. */
const limits = { flickerMev: 20, lightStepMev: 50, driftMev: 100, centreUm: 1000, marginPpm: 20_000 }

/** A product on its platter, drawn at the marks of one turn and at some past it, which are met anew. */
export interface DrawnTurn {
  readonly kind: SolidKind
  readonly marks: number
  readonly turns: CheckedTake['turns']
  readonly drawn: DrawnTake
  readonly widthPx: number
  /** Where what is to stand on the axis stands: the body, or of what is not symmetrical the circle it sweeps. */
  readonly place: Place
  readonly random: () => number
}

export interface DrawnTurnOptions {
  readonly kind: SolidKind
  readonly seed: number
  readonly marks: number
  readonly offsetMm: number
  /** Marks drawn past the turn. */
  readonly past?: number
  /** How wide the picture is at the axis. */
  readonly fieldWidthMm?: number
}

/** By chance: direction, pose, pattern, a highlight that swings through in two of five, light, shadow and camera. */
export function aDrawnTurn(asked: DrawnTurnOptions): DrawnTurn {
  const { kind, seed, marks, offsetMm, past = 12, fieldWidthMm = 240 } = asked
  const random = randomOf(seed * 7919 + marks)
  const turns = random() < 0.5 ? 'clockwise' : 'counter-clockwise'
  const widthPx = kind === 'unsymmetrical' ? 112 : 96
  const options = {
    kind,
    seed,
    widthPx,
    heightPx: (widthPx * 3) / 4,
    turns,
    poseDeg: 360 * random(),
    texture: 0.3 + 0.6 * random(),
    highlight: random() < 0.4 ? 0.3 + 0.3 * random() : 0,
    productY: 0.12 + 0.18 * random(),
    backdropY: 1,
    gradient: 0.15 * random(),
    platterY: 0.35 + 0.25 * random(),
    shadow: 0.5 * random(),
    anglesDeg: turnAngles({
      framesPerTurn: marks,
      frames: marks + past,
      wobbleDeg: (0.02 * 360) / marks,
      seed,
    }),
    camera: {
      distanceMm: 800 + 500 * random(),
      heightMm: 100 + 150 * random(),
      lateralMm: 8 * random() - 4,
      fieldWidthMm,
    },
  } as const
  // What it sweeps lies to a side of its body: the body is put as far to the other.
  const isBySweep = kind === 'unsymmetrical'
  const swept = isBySweep ? drawTake({ ...options, anglesDeg: [] }).truth.leastSweep : { xMm: 0, yMm: 0 }
  const bearing = 2 * Math.PI * random()
  const xMm = -offsetMm * Math.sin(bearing) - swept.xMm
  const yMm = -offsetMm * Math.cos(bearing) - swept.yMm
  const drawn = drawTake({
    ...options,
    offsetMm: Math.hypot(xMm, yMm),
    offsetBearingDeg: (Math.atan2(-xMm, -yMm) * 180) / Math.PI,
  })
  const place = isBySweep ? drawn.truth.leastSweep : drawn.truth.body
  return { kind, marks, turns, drawn, widthPx, place, random }
}

/** A frame to be shot: at which of the drawn marks, and how its light differs from the take's, in EV. */
export interface PlannedFrame {
  readonly at: number
  readonly lightEv: number
  readonly backdropEv: number
  readonly productEv: number
  readonly noiseSeed: number
  readonly isCutShort: boolean
  readonly shutterSeconds: number
}

export interface PlannedTake {
  readonly turn: DrawnTurn
  readonly framesPerTurn: number
  readonly overlap: number
  /** Shot the other way round. */
  readonly isReversed: boolean
  readonly backdropY: number
  readonly noiseCodes: number
  readonly frames: readonly PlannedFrame[]
}

/**
 * A clean take of a drawn turn, at every mark or every so many of them: noise of 0.7 to 2 codes, flicker up to 0.016 EV
 * against the frames beside and a drift up to 0.03 EV, both under their limits.
 */
export function aCleanTake(turn: DrawnTurn, every: number): PlannedTake {
  const { random, marks } = turn
  const framesPerTurn = marks / every
  const overlap = Math.floor(5 * random())
  const count = framesPerTurn + overlap
  const isReversed = random() < 0.5
  const flickerEv = 0.008 * random()
  const driftEv = 0.06 * (random() - 0.5)
  const noiseSeed = Math.floor(random() * 1e6)
  return {
    turn,
    framesPerTurn,
    overlap,
    isReversed,
    backdropY: [0.92, 0.8, 0.7][Math.floor(3 * random())] ?? 0.8,
    noiseCodes: 0.7 + 1.3 * random(),
    frames: Array.from({ length: count }, (_, k) => ({
      at: every * (isReversed ? count - 1 - k : k),
      lightEv: 2 * flickerEv * (random() - 0.5) + (driftEv * k) / count,
      backdropEv: 0,
      productEv: 0,
      noiseSeed: noiseSeed + 31 * k,
      isCutShort: false,
      shutterSeconds: 1 / 125,
    })),
  }
}

/** A frame that several takes share is shot and looked at once. */
const shot = new WeakMap<PlannedFrame, SeenFrame>()

/** As the check's thread has seen it, from a file whose name counts on. */
function seenFrame({ turn, backdropY, noiseCodes }: PlannedTake, frame: PlannedFrame, at: number): SeenFrame {
  const file = `IMG_${String(at + 1).padStart(4, '0')}.JPG`
  const before = shot.get(frame)
  if (before) return { ...before, facts: { ...before.facts, file } }
  const small = turn.drawn.shoot(frame.at, {
    ...frame,
    backdropEv: frame.backdropEv + Math.log2(backdropY),
    noiseCodes,
  })
  const trouble = frame.isCutShort
    ? ({ kind: 'cut short', sentence: `${file} is cut short.` } as const)
    : null
  const seen: SeenFrame = {
    facts: {
      file,
      bytes: 1000,
      contentHash: trouble ? null : String(frame.noiseSeed),
      from: trouble ? null : 'picture',
      widthPx: trouble ? null : small.widthPx,
      heightPx: trouble ? null : small.heightPx,
      orientation: 1,
      time: null,
      settings: { ...noSettings, shutterSeconds: frame.shutterSeconds },
      ticket: null,
      trouble,
    },
    trace: trouble ? null : traceOf(small),
    band: null,
  }
  shot.set(frame, seen)
  return seen
}

/** What is kept of the pictures of a take. */
export function tracesOfPlanned(take: PlannedTake) {
  return take.frames.map((frame, at) => seenFrame(take, frame, at).trace)
}

/** The report of the whole check, as the session has it made, with the camera that drew the take. */
export function reportOfPlanned(take: PlannedTake) {
  const { turn, framesPerTurn, overlap, isReversed } = take
  const { distanceMm, tiltDeg, rangeMm, fieldWidthMm } = turn.drawn.truth.camera
  const seen = take.frames.map((frame, at) => seenFrame(take, frame, at))
  const checked: CheckedTake = {
    framesPerTurn,
    overlapFrames: overlap,
    hasEnded: true,
    turns: isReversed === (turn.turns === 'clockwise') ? 'counter-clockwise' : 'clockwise',
    pointerSide: 'camera',
    centreChoice: turn.kind === 'unsymmetrical' ? 'least sweep' : 'body',
    // A sensor 36 mm wide that spans a field at the distance d: f = d × 36 ÷ (field + 36).
    camera: {
      focalMm: (rangeMm * 36) / (fieldWidthMm + 36),
      sensorWidthMm: 36,
      sensorHeightMm: 27,
      cameraDistanceMm: distanceMm,
      cameraTiltDeg: tiltDeg,
    },
    limits,
    edgeBand: null,
    otherRows: [],
  }
  return reportOf(
    checked,
    seen.map(({ facts }, at) => ({ frame: at + 1, folder: '', files: [facts.file] })),
    seen,
  )
}
