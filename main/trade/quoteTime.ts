import { type DeskTime, deskMs } from './deskTime.ts'
import { besideMs, type Estimate, jobBenchMs, spinMeanMs } from './estimate.ts'
import { roundedQuotient } from './money.ts'
import type { QuoteBasis, QuoteInput, QuoteSpin } from './quote.ts'
import type { SpinWork } from './spinCost.ts'
import { frameSet } from './turn/frameSet.ts'
import { framesToShoot, type RowFrames } from './turn/framesToShoot.ts'
import { rowFrames } from './turn/rows.ts'

/** The rows the quote sets for every spin that follows the job's brief, and how many people work at the bench. */
export type QuotedTurn = Pick<QuoteInput, 'rows' | 'people'>

export interface QuoteTime {
  /** How long the bench is taken. */
  readonly bench: Estimate
  /** The time of people at it: the same with one; with two the sum of what both do, without waiting. */
  readonly work: Estimate
  /** What of it the second person does, beside the platter, on average; 0 with one. */
  readonly secondMs: number
  readonly desk: DeskTime
  readonly framesShot: number
  /** Finishing that is bought in, in minor units. */
  readonly boughtMinor: number
}

/** Bench and desk time of all spins of a quote, and what their finishing costs where it is bought in. */
export function quoteTime(basis: QuoteBasis, turn: QuotedTurn): QuoteTime {
  const { pace } = basis
  const workOf = spinWorkOf(basis, turn)
  const spins = basis.spins.map((spin) => workOf(spin))
  const work = jobBenchMs(spins, pace)
  const isAlone = turn.people === 1
  return {
    bench: isAlone ? work : jobBenchMs(spins, pace, turn.people),
    work,
    secondMs: isAlone ? 0 : besideMs(spins, pace),
    ...deskSide(basis, turn, basis.spins),
  }
}

/** The desk's side of some spins of a quote. */
export function deskSide(
  basis: QuoteBasis,
  turn: QuotedTurn,
  spins: readonly QuoteSpin[],
): Omit<QuoteTime, 'bench' | 'work' | 'secondMs'> {
  const frames = { framesShot: 0, framesDeveloped: 0, framesExported: 0 }
  let finishMs = 0
  let boughtMinor = 0
  const deskOf = spinDesks(basis, turn)
  for (const spin of spins) {
    const own = deskOf(spin)
    frames.framesShot += own.framesShot
    frames.framesDeveloped += own.framesDeveloped
    frames.framesExported += own.framesExported
    finishMs += own.finishMs
    boughtMinor += own.boughtMinor
  }
  return {
    // Finishing differs from spin to spin, so its time is added up above and enters as one piece.
    desk: deskMs(
      { ...frames, spins: spins.length, framesFinished: finishMs > 0 ? 1 : 0, finishFrameMs: finishMs },
      basis.pace,
    ),
    framesShot: frames.framesShot,
    boughtMinor,
  }
}

/** The rows of a spin: its own brief's, else the quote's. */
export function rowsOf(spin: Pick<QuoteSpin, 'ownRows'>, turn: QuotedTurn): readonly RowFrames[] {
  return spin.ownRows ?? rowFrames(turn.rows)
}

/** What the bench does for a spin; of a set of several products the one that takes longest counts. */
export function spinWorkOf(basis: QuoteBasis, turn: QuotedTurn): (spin: QuoteSpin) => SpinWork {
  const means = new Map<string, number>()
  const meanOf = (work: SpinWork) => {
    const key = JSON.stringify(work)
    const known = means.get(key)
    if (known !== undefined) return known
    const meanMs = spinMeanMs(work, basis.pace)
    means.set(key, meanMs)
    return meanMs
  }
  return (spin) => {
    const rows = rowsOf(spin, turn)
    const all = spin.products.map(({ sizeClass, finish, isFirstOfFamily }) => ({
      sizeClass,
      finish,
      isFirstOfFamily,
      rows,
      setChangeMs: basis.setChangeMs,
      stepFactor: spin.stepFactor ?? 1,
    }))
    const [first, ...others] = all
    if (!first) throw new Error(`Spin ${spin.shootId} has no product.`)
    return others.reduce((longest, work) => (meanOf(work) > meanOf(longest) ? work : longest), first)
  }
}

/** Frames of a spin that are delivered, each counted once, and so finished. */
export function finishedFrames(basis: QuoteBasis, turn: QuotedTurn): (spin: QuoteSpin) => number {
  const desk = spinDesks(basis, turn)
  return (spin) => desk(spin).framesDeveloped
}

interface SpinDesk {
  readonly framesShot: number
  readonly framesDeveloped: number
  readonly framesExported: number
  readonly finishMs: number
  readonly boughtMinor: number
}

/** The desk's work on a spin, worked out once for all that follow one brief. */
function spinDesks(basis: QuoteBasis, turn: QuotedTurn): (spin: QuoteSpin) => SpinDesk {
  const shared = new Map<string, SpinDesk>()
  return (spin) => {
    if (spin.ownRows !== null) return deskOf(basis, spin.ownRows, spin)
    const wish = spin.deliverables.map(({ kind, frames }) => `${kind} ${frames}`)
    const key = `${spin.finishClassId} ${wish.join(' ')}`
    const known = shared.get(key) ?? deskOf(basis, rowsOf(spin, turn), spin)
    shared.set(key, known)
    return known
  }
}

function deskOf(basis: QuoteBasis, rows: readonly RowFrames[], spin: QuoteSpin): SpinDesk {
  const framesDeveloped = rows.reduce((sum, row) => sum + framesWanted(row.frames, spin), 0)
  const framesExported = rows.reduce(
    (sum, row) =>
      sum +
      spin.deliverables.reduce((own, { frames }) => own + Math.min(frames ?? row.frames, row.frames), 0),
    0,
  )
  const finish = basis.finishClasses.find(({ id }) => id === spin.finishClassId)
  return {
    framesShot: framesToShoot(rows),
    framesDeveloped,
    framesExported,
    finishMs: finish?.inHouse ? framesDeveloped * finish.frameMs : 0,
    boughtMinor:
      finish && !finish.inHouse
        ? roundedQuotient(BigInt(framesDeveloped) * BigInt(finish.frameMinorPer100), 100n)
        : 0,
  }
}

/**
 * Frames of one row that any deliverable wants, each counted once: a loop wants the whole turn, sets and stills
 * their evenly spread frames. More than the turn has cannot be wanted of it.
 */
function framesWanted(framesPerTurn: number, spin: QuoteSpin): number {
  const wanted = new Set<number>()
  for (const { frames } of spin.deliverables) {
    if (frames === null || frames >= framesPerTurn) return framesPerTurn
    for (const frame of frameSet(framesPerTurn, frames)) wanted.add(frame)
  }
  return wanted.size
}
