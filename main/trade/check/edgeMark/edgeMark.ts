import { normalBelow } from '../../normal.ts'
import { median } from '../../quantile.ts'
import type { Finding } from '../finding.ts'
import { fitMarkCircle, type MarkCircle, type MarkSeen, turnOfMark } from './edgeMarkFit.ts'
import { edgeMarkFindings, tooLittleSeen } from './edgeMarkWords.ts'

/** Steps too many (over 0: marks passed over) or too few (under 0: a mark shot again) on the way to a frame. */
export interface Slip {
  /** The last frame before and the first after it; further apart than one where the mark was hidden between. */
  readonly from: number
  readonly to: number
  readonly steps: number
}

/** The platter's true angles, told by a mark on its edge. */
export interface EdgeMark {
  /** Frames in which the mark is seen, of how many. */
  readonly seen: number
  readonly frames: number
  /**
   * The platter's angle of each frame against the first, in degrees, growing with the frames and past 360: measured where
   * the mark is seen, else by even steps between. Null where the mark is seen too little.
   */
  readonly anglesDeg: readonly number[] | null
  /** Whether the angle of a frame was measured. */
  readonly isMeasured: readonly boolean[]
  /** Frames from frame 1 to the one that repeats it, to parts of a step; null before the turn has closed. */
  readonly framesPerTurn: number | null
  /** The frame that repeats frame 1 best. */
  readonly closingFrame: number | null
  /** How sure `closingFrame` is, 0 to 1. */
  readonly confidence: number | null
  readonly slips: readonly Slip[]
  /** How far the marks were met, as a standard deviation in steps: of hand and measuring together. */
  readonly spreadSteps: number | null
  readonly circle: MarkCircle | null
  readonly findings: readonly Finding[]
}

const leastSeen = 6
/** Where the edge runs along the line of sight a pixel is many degrees: further out than this nothing is measured. */
const mostTurn = (65 * Math.PI) / 180
/** A circle is only told by a pass that reaches so far to both sides of the nearest point. */
const leastTurn = (15 * Math.PI) / 180
/** A rest of less than this of a step is the hand's and the measuring's; a step more or less is told from there on. */
const wholeStep = 0.3

/**
 * The true angles of a take by a mark on the platter's edge, for any product, a plain bottle too: the mark's places
 * along the picture fitted with its circle, steps that were missed or shot twice told from it, and the frame that
 * closes the turn. While the mark is on the far side, a slip is only known to lie between two frames.
 * @param positionsPx    of the mark per frame, null where it is hidden (`markPositions`)
 * @param framesPlanned  per turn, 8 or more
 */
export function edgeMarkOf(positionsPx: readonly (number | null)[], framesPlanned: number): EdgeMark {
  const seenAt = positionsPx.flatMap((xPx, index) => (xPx === null ? [] : [{ index, xPx }]))
  const passes = passesOf(seenAt, framesPlanned)
  const longest = passes.toSorted((a, b) => b.length - a.length)[0] ?? []
  const step = (2 * Math.PI) / framesPlanned
  const first = longest.length < leastSeen ? null : fitPass(longest, step)
  if (!first || !isPastNearest(longest, first)) return unseen(seenAt.length, positionsPx.length)
  let circle = first
  let tracks = passes.map((pass) => trackOf(pass, circle, step))
  // Every pass tells of the same circle: the far ones, once their slips are known.
  for (let round = 0; round < 3; round++) {
    const all = tracks.flatMap((track) => track.places.map(({ xPx, angle }): MarkSeen => ({ xPx, angle })))
    circle = fitMarkCircle(all) ?? circle
    tracks = passes.map((pass) => trackOf(pass, circle, step))
  }
  const told = tracks.filter(({ places }) => places.length > 0)
  return told.length === 0
    ? unseen(seenAt.length, positionsPx.length)
    : markOf(told, circle, positionsPx, seenAt.length, framesPlanned)
}

interface SeenAt {
  readonly index: number
  readonly xPx: number
}

/** Frames in a row in which the mark is on the near side; a frame or two between may be missing. */
function passesOf(seen: readonly SeenAt[], framesPlanned: number): readonly (readonly SeenAt[])[] {
  const passes: SeenAt[][] = []
  for (const place of seen) {
    const last = passes.at(-1)
    if (last && place.index - (last.at(-1)?.index ?? 0) <= Math.max(2, framesPlanned / 8)) last.push(place)
    else passes.push([place])
  }
  return passes
}

function isPastNearest(pass: readonly SeenAt[], circle: MarkCircle): boolean {
  const turns = pass.map(({ xPx }) => turnOfMark(circle, xPx))
  return turns.some((turn) => turn < -leastTurn) && turns.some((turn) => turn > leastTurn)
}

function fitPass(pass: readonly SeenAt[], step: number): MarkCircle | null {
  const fitted = (slips: ReadonlyMap<number, number>) => {
    let slipped = 0
    return fitMarkCircle(
      pass.map(({ index, xPx }) => {
        slipped += slips.get(index) ?? 0
        return { xPx, angle: step * (index + slipped) }
      }),
    )
  }
  const rough = fitted(new Map())
  if (!rough) return null
  const { slips } = trackOf(pass, rough, step)
  return slips.length === 0 ? rough : fitted(new Map(slips.map(({ to, steps }) => [to - 1, steps])))
}

/** One pass of the mark: its true angles within the turn, and slips told within it. */
interface Track {
  readonly places: readonly (SeenAt & { readonly turn: number; readonly angle: number })[]
  readonly slips: readonly Slip[]
  /** Turned so far beyond what the frames' numbers say, in steps: at its beginning and at its end. */
  readonly aheadFrom: number
  readonly aheadTo: number
  readonly offSteps: readonly number[]
}

function trackOf(pass: readonly SeenAt[], circle: MarkCircle, step: number): Track {
  const measured = pass.flatMap((place) => {
    const turn = turnOfMark(circle, place.xPx)
    return Math.abs(turn) < mostTurn ? [{ ...place, turn, angle: 0 }] : []
  })
  const slips: Slip[] = []
  let slipped = 0
  const level = measured.map((place, at) => {
    const before = measured[at - 1]
    if (before) {
      const rest = (place.turn - before.turn) / step - (place.index - before.index)
      // A step that was met badly is made good by the next; one that was missed is not.
      const after = measured[at + 1]
      const next = after ? (after.turn - before.turn) / step - (after.index - before.index) : rest
      if (Math.abs(rest) > 0.5 && Math.abs(next) > 0.5 && Math.sign(rest) === Math.sign(next)) {
        const steps = Math.sign(rest) * Math.max(1, Math.round(Math.abs(rest)))
        slips.push({ from: before.index + 1, to: place.index + 1, steps })
        slipped += steps
      }
    }
    return { ...place, ahead: place.turn / step - place.index - slipped, slipped }
  })
  const ahead = level.length === 0 ? 0 : median(level.map((place) => place.ahead))
  return {
    places: level.map((place) => ({
      ...place,
      // The phase of the circle belongs to its own numbering: a pass of its own takes it from where it lies.
      angle: circle.phase + step * (place.index + place.slipped + ahead),
    })),
    slips,
    aheadFrom: ahead,
    aheadTo: ahead + slipped,
    offSteps: level.map((place) => place.ahead - ahead),
  }
}

function unseen(seen: number, frames: number): EdgeMark {
  return {
    seen,
    frames,
    anglesDeg: null,
    isMeasured: Array.from({ length: frames }, () => false),
    framesPerTurn: null,
    closingFrame: null,
    confidence: null,
    slips: [],
    spreadSteps: null,
    circle: null,
    findings: [tooLittleSeen(seen, frames)],
  }
}

function markOf(
  tracks: readonly Track[],
  circle: MarkCircle,
  positionsPx: readonly (number | null)[],
  seen: number,
  framesPlanned: number,
): EdgeMark {
  const slips = tracks.flatMap((track, at) => {
    const before = tracks[at - 1]
    const hidden = before ? hiddenSlip(before, track, framesPlanned) : null
    return [...(hidden && Math.abs(hidden.steps) >= wholeStep ? [hidden] : []), ...track.slips]
  })
  const off = tracks.flatMap(({ offSteps }) => offSteps)
  const spreadSteps = Math.sqrt(off.reduce((sum, each) => sum + each * each, 0) / off.length)
  const stepsAt = stepsOf(positionsPx.length, slips)
  const closing = closingOf(stepsAt, framesPlanned)
  const measured = new Map(
    tracks.flatMap(({ places, offSteps }) => places.map(({ index }, at) => [index, offSteps[at] ?? 0])),
  )
  const fewest = Math.min(...tracks.map(({ places }) => places.length))
  const mark: Omit<EdgeMark, 'findings'> = {
    seen,
    frames: positionsPx.length,
    anglesDeg: stepsAt.map((steps, index) => ((steps + (measured.get(index) ?? 0)) * 360) / framesPlanned),
    isMeasured: stepsAt.map((_, index) => measured.has(index)),
    framesPerTurn: tracks.length < 2 ? null : closing,
    closingFrame: tracks.length < 2 || closing === null ? null : Math.round(closing) + 1,
    confidence: tracks.length < 2 || closing === null ? null : sureOf(closing, spreadSteps, fewest),
    slips,
    spreadSteps,
    circle,
  }
  return { ...mark, findings: edgeMarkFindings(mark, framesPlanned) }
}

/** What the platter was turned more than the frames' numbers say while the mark was on the far side. */
function hiddenSlip(before: Track, after: Track, framesPlanned: number): Slip {
  const turned = after.aheadFrom - before.aheadTo
  // Both angles are known within a turn alone: of whole turns between, those that leave the fewest steps over.
  const steps = turned - framesPlanned * Math.round(turned / framesPlanned)
  return {
    from: (before.places.at(-1)?.index ?? 0) + 1,
    to: (after.places[0]?.index ?? 0) + 1,
    steps: Math.abs(steps - Math.round(steps)) < wholeStep ? Math.round(steps) : steps,
  }
}

/** Steps turned from the first frame to each; a hidden slip is spread over the frames in which it may lie. */
function stepsOf(frames: number, slips: readonly Slip[]): readonly number[] {
  return Array.from({ length: frames }, (_, index) =>
    slips.reduce((sum, { from, to, steps }) => {
      const passed = Math.min(1, Math.max(0, (index + 1 - from) / (to - from)))
      return sum + steps * passed
    }, index),
  )
}

/** How many frames after the first the platter stands where it stood, between two frames by even steps. */
function closingOf(stepsAt: readonly number[], framesPlanned: number): number | null {
  const after = stepsAt.findIndex((steps) => steps >= framesPlanned)
  const [a, b] = [stepsAt[after - 1], stepsAt[after]]
  return a === undefined || b === undefined || b === a ? null : after - (b - framesPlanned) / (b - a)
}

/** How probable it is that the nearest whole frame is the one, by the spread of the means of two passes. */
function sureOf(framesPerTurn: number, spreadSteps: number, fewest: number): number {
  const rest = framesPerTurn - Math.round(framesPerTurn)
  const deviation = Math.max(0.02, spreadSteps * Math.sqrt(2 / fewest))
  return normalBelow((0.5 - rest) / deviation) - normalBelow((-0.5 - rest) / deviation)
}
