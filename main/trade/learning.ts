import { ChanceLearning, type SeenChance } from './chanceLearning.ts'
import { type Gap, type GapFigures, GapLearning } from './gapLearning.ts'
import type { Pace } from './pace.ts'
import { Seen, shrunk } from './shrinkage.ts'
import { type TakeFact, takeStepMs } from './takeFact.ts'

/** A step learned from takes, and how much of it comes from them. */
export interface LearnedStep {
  readonly stepMs: number
  readonly takes: number
  /** The part of the takes in the learned step, 0 (the level above alone) to under 1. */
  readonly weight: number
  /** When the last of these takes started, in ms since 1970; null while there is none. */
  readonly lastMs: number | null
}

/** Everything that takes have taught, beside the settings they started from. */
export interface LearnedFigures extends GapFigures {
  readonly step: LearnedStep
  /** The step of each rig that was turned on. */
  readonly rigs: readonly (LearnedStep & { readonly rigId: number })[]
  readonly stepSpreadPpm: number
  /** Of takes timed frame by frame: the median step of the hands, and what short stops add to it, as a share. */
  readonly stops: { readonly medianStepMs: number; readonly share: number; readonly takes: number } | null
  readonly restart: SeenChance
  readonly reshoot: SeenChance
}

/**
 * The step to count on for the rest of a take, in ms: its own median drawn toward its rig's in log time, the fewer
 * frames it has the more.
 * @param ownMs   the take's median step so far; null while it has none
 * @param frames  its frames so far
 */
export function stepOfTake(ownMs: number | null, frames: number, rigStepMs: number): number {
  if (ownMs === null) return rigStepMs
  return Math.exp(shrunk(Math.log(rigStepMs), Math.log(ownMs), frames, frameWorth))
}

/** How many takes the studio's setting is worth against its takes, and the studio's step against a rig's own takes. */
const settingWorth = 4
const studioWorth = 6
/** A take of a few frames says little: its step weighs frames / (frames + this). */
const frameWorth = 12
/** Deviations the setting of the spread is worth. */
const spreadWorth = 8
/** One take moves its rig by no more than a factor of two, whatever went on in it. */
const mostOff = Math.LN2

/**
 * What takes teach, told one after the other in the order of their start. The step is learned in log time: a
 * take's step is drawn toward its rig (the fewer its frames the more), a rig's toward the studio's, the
 * studio's toward its setting; the more takes, the less. Handling and row changes are learned from the gaps
 * between takes at one bench, and two chances from what became of them. Without takes all are the settings.
 */
export class Learning {
  readonly #setting: Pace
  readonly #studio = new Seen()
  readonly #rigs = new Map<number, Seen>()
  readonly #medians = new Seen()
  readonly #stops = new Seen()
  readonly #gaps: GapLearning
  readonly #chances: ChanceLearning

  constructor(setting: Pace) {
    if (!(setting.stepMs > 0)) throw new Error('Learning: a step must be over 0')
    this.#setting = setting
    this.#gaps = new GapLearning(setting)
    this.#chances = new ChanceLearning(setting)
  }

  /** Learns from the next take, and says what the gap before it held. */
  see(take: TakeFact): Gap {
    const gap = this.#gaps.see(take, this.#stepOn(take.rigId))
    this.#chances.see(take)
    this.#seeStep(take)
    return gap
  }

  /** The figures to estimate with: the settings, and in their place what takes have taught. */
  pace(): Pace {
    return {
      ...this.#setting,
      stepMs: Math.round(Math.exp(this.#studioLog())),
      stepSpreadPpm: this.#spreadPpm(),
      restartPpm: Math.round(this.#chances.restart().chance * 1e6),
      reshootPpm: Math.round(this.#chances.reshoot().chance * 1e6),
      rowChangeMs: this.#gaps.rowChangeMs(),
      restartPauseMs: this.#gaps.restartPauseMs(),
      handling: this.#gaps.handling(),
    }
  }

  /** A rig's step over the studio's; 1 for a rig nobody has turned on. */
  stepFactor(rigId: number): number {
    return this.#rigs.has(rigId) ? this.#stepOn(rigId) / Math.exp(this.#studioLog()) : 1
  }

  /** The factors of all rigs that were turned on. */
  stepFactors(): ReadonlyMap<number, number> {
    return new Map([...this.#rigs.keys()].map((rigId) => [rigId, this.stepFactor(rigId)]))
  }

  figures(): LearnedFigures {
    return {
      ...this.#gaps.figures(),
      step: learned(this.#studio, this.#studioLog(), settingWorth),
      rigs: [...this.#rigs].map(([rigId, seen]) => ({
        rigId,
        ...learned(seen, Math.log(this.#stepOn(rigId)), studioWorth),
      })),
      stepSpreadPpm: this.#spreadPpm(),
      stops:
        this.#medians.count === 0
          ? null
          : {
              medianStepMs: Math.round(Math.exp(this.#medians.mean())),
              share: this.#stops.mean(),
              takes: this.#medians.count,
            },
      restart: this.#chances.restart(),
      reshoot: this.#chances.reshoot(),
    }
  }

  #seeStep(take: TakeFact): void {
    const stepMs = takeStepMs(take)
    if (stepMs === null) return
    const expected = Math.log(this.#stepOn(take.rigId))
    const off = Math.max(-mostOff, Math.min(mostOff, Math.log(stepMs) - expected))
    const weight = take.framesShot / (take.framesShot + frameWorth)
    let rig = this.#rigs.get(take.rigId)
    if (!rig) {
      rig = new Seen()
      this.#rigs.set(take.rigId, rig)
    }
    for (const seen of [rig, this.#studio]) seen.add(expected + off, weight, off, take.startedMs)
    if (take.spanMs === null || take.medianStepMs === null) return
    this.#medians.add(Math.log(take.medianStepMs), weight, 0, take.startedMs)
    this.#stops.add(stepMs / take.medianStepMs - 1, weight, 0, take.startedMs)
  }

  #studioLog(): number {
    return this.#studio.level(Math.log(this.#setting.stepMs), settingWorth)
  }

  #stepOn(rigId: number): number {
    const studio = this.#studioLog()
    return Math.exp(this.#rigs.get(rigId)?.level(studio, studioWorth) ?? studio)
  }

  #spreadPpm(): number {
    const setting = this.#setting.stepSpreadPpm / 1e6
    return Math.round(Math.sqrt(this.#studio.variance(setting ** 2, spreadWorth)) * 1e6)
  }
}

function learned(seen: Seen, log: number, worth: number): LearnedStep {
  return {
    stepMs: Math.round(Math.exp(log)),
    takes: seen.count,
    weight: seen.part(worth),
    lastMs: seen.lastMs,
  }
}
