import { setGoneAfterMs } from './chanceLearning.ts'
import type { Gap, Which } from './gapLearning.ts'
import { Learning } from './learning.ts'
import type { Pace } from './pace.ts'
import { atStep, momentsOf } from './spinCost.ts'
import { certain } from './spread.ts'
import { type TakeFact, turnedMs } from './takeFact.ts'

/** How far quotes were off. Shares are of the time that the spins really took. */
export interface QuoteErrors {
  /** Quoted less real on average, in ms: over 0 the quotes were too long. */
  readonly biasMs: number
  readonly biasShare: number
  /** The mean of how far off, either way, in ms. */
  readonly absoluteMs: number
  readonly absoluteShare: number
}

export interface BackTestFigures {
  /** Spins that were turned to the end. */
  readonly spins: number
  /** Of how many of them the handling is known too. */
  readonly withHandling: number
  /** The time they really took on average, in ms. */
  readonly realMs: number
  readonly learned: QuoteErrors
  readonly flat: QuoteErrors
}

/** What was known when a job was quoted. */
interface Knowledge {
  readonly pace: Pace
  readonly stepFactors: ReadonlyMap<number, number>
}

interface PastSpin {
  readonly take: TakeFact
  readonly known: Knowledge
  readonly which: Which
  readonly hasHandling: boolean
  /** Frames of each row once a take of it was kept. */
  readonly rowFrames: Map<number, number>
  rowChanges: number
  realMs: number
  endedMs: number
  reshoots: number
}

/**
 * Quotes every past spin from what was known before the first take of its job, and compares that with the time
 * it took: once by what takes had taught until then, once by the flat setting. One pass over the takes in the
 * order of their start.
 *
 * Compared is what takes tell: turning of all takes without breaks; handling with check frames, row changes, and
 * the pause after a rejected take, where the gap before the take shows them. What is not known of a spin is left out
 * of its quotes too. Set changes are on neither side; a spin turned again by the client's own wish is an order of its
 * own.
 */
export class BackTest {
  readonly #flat: Knowledge
  readonly #learning: Learning
  readonly #jobs = new Map<number, Knowledge>()
  readonly #spins = new Map<number, PastSpin>()

  constructor(setting: Pace) {
    this.#flat = { pace: setting, stepFactors: new Map() }
    this.#learning = new Learning(setting)
  }

  see(take: TakeFact): void {
    let known = this.#jobs.get(take.jobId)
    if (!known) {
      known = { pace: this.#learning.pace(), stepFactors: this.#learning.stepFactors() }
      this.#jobs.set(take.jobId, known)
    }
    const gap = this.#learning.see(take)
    const spin = this.#spins.get(take.shootId) ?? this.#newSpin(take, known, gap)
    if (isByWish(spin, take)) return
    spin.realMs += turnedMs(take) + (gap.rowChangeMs ?? 0) + (gap.pauseMs ?? 0)
    if (gap.rowChangeMs !== null) spin.rowChanges += 1
    if (take.verdict === 'keep') spin.rowFrames.set(take.row, take.framesWanted)
    spin.endedMs = take.endedMs
    spin.reshoots = take.reshoots
  }

  /** Undefined until a spin has been turned to its end. */
  figures(): BackTestFigures | undefined {
    const done = [...this.#spins.values()].filter(({ take, rowFrames }) => rowFrames.size >= take.rows)
    if (done.length === 0) return undefined
    const real = done.map(({ realMs }) => realMs)
    const errorsOf = (knowledge: (spin: PastSpin) => Knowledge) =>
      errors(
        real,
        done.map((spin) => quotedMs(spin, knowledge(spin))),
      )
    return {
      spins: done.length,
      withHandling: done.filter(({ hasHandling }) => hasHandling).length,
      realMs: mean(real),
      learned: errorsOf(({ known }) => known),
      flat: errorsOf(() => this.#flat),
    }
  }

  #newSpin(take: TakeFact, known: Knowledge, gap: Gap): PastSpin {
    const spin: PastSpin = {
      take,
      known,
      which: gap.which,
      hasHandling: gap.handlingMs !== null,
      rowFrames: new Map(),
      rowChanges: 0,
      realMs: gap.handlingMs ?? 0,
      endedMs: take.endedMs,
      reshoots: take.reshoots,
    }
    this.#spins.set(take.shootId, spin)
    return spin
  }
}

/** Turned again after its set was gone, though nobody but the client called for it. */
function isByWish(spin: PastSpin, take: TakeFact): boolean {
  const isDone = spin.rowFrames.size >= take.rows
  return isDone && take.reshoots === spin.reshoots && take.startedMs - spin.endedMs > setGoneAfterMs
}

/** The mean time of a spin, of the parts of it that are known, as it would have been quoted. */
function quotedMs(spin: PastSpin, { pace, stepFactors }: Knowledge): number {
  const { sizeClass, finish, rigId } = spin.take
  const factor = stepFactors.get(rigId) ?? 1
  const handling = pace.handling.find((row) => row.sizeClass === sizeClass && row.finish === finish)
  const rowFrames = [...spin.rowFrames.values()].map((frames) => frames * factor)
  const checkFrames = spin.hasHandling ? pace.checkFrames * factor : 0
  const fixedMs = (spin.hasHandling ? (handling?.[spin.which] ?? 0) : 0) + spin.rowChanges * pace.rowChangeMs
  const { plain, extra } = momentsOf([
    {
      handling: certain(0),
      fixedMs,
      frames: checkFrames + rowFrames.reduce((a, b) => a + b, 0),
      restart: pace.restartPpm / 1e6,
      rowFrames,
      pauseMs: pace.restartPauseMs,
      reshoot: pace.reshootPpm / 1e6,
      againMs: fixedMs,
    },
  ])
  const stepMs = pace.stepMs * Math.exp((pace.stepSpreadPpm / 1e6) ** 2 / 2)
  return atStep(plain, stepMs) + atStep(extra, stepMs)
}

function errors(real: readonly number[], quoted: readonly number[]): QuoteErrors {
  const off = quoted.map((ms, i) => ms - (real[i] ?? 0))
  const whole = mean(real)
  const biasMs = mean(off)
  const absoluteMs = mean(off.map(Math.abs))
  return { biasMs, biasShare: biasMs / whole, absoluteMs, absoluteShare: absoluteMs / whole }
}

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length
}
