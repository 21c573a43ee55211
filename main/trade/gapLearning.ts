import type { Handling, Pace } from './pace.ts'
import type { Finish, SizeClass } from './product.ts'
import { Seen } from './shrinkage.ts'
import type { TakeFact } from './takeFact.ts'

/** A time learned from gaps between takes, beside the studio's setting. */
export interface LearnedTime {
  readonly settingMs: number
  readonly learnedMs: number
  /** Gaps it was learned from; 0 where only others moved it. */
  readonly gaps: number
  /** When the last of them ended, in ms since 1970. */
  readonly lastMs: number | null
}

export interface LearnedHandling {
  readonly sizeClass: SizeClass
  readonly finish: Finish
  readonly first: LearnedTime
  readonly following: LearnedTime
  /** Its spread, first and following together: standard deviation of the logarithm, in ppm. */
  readonly spreadPpm: number
}

export interface GapFigures {
  readonly handling: readonly LearnedHandling[]
  readonly rowChange: LearnedTime
  /** From the end of a rejected take to the start of the next one. */
  readonly restartPause: LearnedTime
}

/** Gaps the setting is worth, and all gaps of the studio against those of one size class and finish. */
const settingWorth = 4
const studioWorth = 4
/** Gaps the spread of all handling is worth against that of one size class and finish: a spread is slowly learned. */
const spreadWorth = 8
/** A gap over four times what was expected is a break (a meal, a call) and teaches nothing. */
const breakFrom = 4
/** Under a quarter of it nobody has handled anything: the product stood ready. It counts as a quarter. */
const leastPart = 1 / 4
/** A time set to nothing can still be learned; ratios need something to start from. */
const leastMs = 60_000

/** Handling of the first of a family, or of one that follows it. */
export type Which = 'firstMs' | 'followingMs'

/** What the gap before a take held. Times in ms; null where there was none, or it cannot be told from a break. */
export interface Gap {
  readonly which: Which
  /** Handling with the check frames. */
  readonly handlingMs: number | null
  readonly rowChangeMs: number | null
  /** After a rejected take of the same row. */
  readonly pauseMs: number | null
}

interface AtBench {
  readonly shootId: number
  readonly row: number
  readonly rigRevisionId: number
  readonly settingsId: number
  readonly reshoots: number
  readonly verdict: TakeFact['verdict']
  readonly endedMs: number
}

/**
 * Learns handling, row changes and pauses from the gaps between takes at one bench. A gap between two spins on one rig
 * holds the second one's handling and check frames, and the dialling of settings where they differ; one between
 * two rows of a spin, a row change; one between a rejected take and the next of its row, a pause. A gap over a set
 * change, a break or a night teaches nothing.
 *
 * What is learned is the ratio to the setting, in log time: that of a size class and finish is drawn toward that
 * of all, that of all toward 1. So is how widely handling spreads: that of a size class and finish toward that of all,
 * that of all toward the setting. Times are given at their mean (median × e^(σ²/2)), since estimates add them up.
 */
export class GapLearning {
  readonly #setting: Pace
  readonly #benches = new Map<number, AtBench>()
  readonly #spins = new Set<number>()
  readonly #families = new Set<string>()
  readonly #all = new Seen()
  readonly #kinds = new Map<string, Seen>()
  readonly #spreads = new Map<string, Seen>()
  readonly #rowChange = new Seen()
  readonly #pause = new Seen()
  readonly #settingOf: ReadonlyMap<string, Handling>

  constructor(setting: Pace) {
    this.#setting = setting
    this.#settingOf = new Map(setting.handling.map((row) => [`${row.sizeClass} ${row.finish}`, row]))
  }

  /**
   * Learns from the gap before a take, and says what it held.
   * @param stepMs  the step expected of this take, for the check frames that its gap holds
   */
  see(take: TakeFact, stepMs: number): Gap {
    const before = this.#benches.get(take.benchId)
    const isFirstTake = !this.#spins.has(take.shootId)
    const which = this.#whichOf(take)
    this.#spins.add(take.shootId)
    this.#families.add(`${take.jobId} ${take.familyId}`)
    this.#benches.set(take.benchId, take)
    const none = { which, handlingMs: null, rowChangeMs: null, pauseMs: null }
    const gapMs = before ? take.startedMs - before.endedMs : 0
    if (!before || gapMs <= 0) return none
    if (before.shootId === take.shootId) {
      if (before.reshoots !== take.reshoots) return none
      if (before.row !== take.row) {
        return this.#seeGap(this.#rowChange, this.#setting.rowChangeMs, gapMs, take.startedMs)
          ? { ...none, rowChangeMs: gapMs }
          : none
      }
      return before.verdict === 'reject' &&
        this.#seeGap(this.#pause, this.#setting.restartPauseMs, gapMs, take.startedMs)
        ? { ...none, pauseMs: gapMs }
        : none
    }
    if (!isFirstTake || before.rigRevisionId !== take.rigRevisionId) return none
    const dialledMs = before.settingsId === take.settingsId ? 0 : this.#setting.changeSettingsMs
    const handlingMs = gapMs - dialledMs
    const checkMs = this.#setting.checkFrames * stepMs
    return this.#seeHandling(take, which, handlingMs - checkMs) ? { ...none, handlingMs } : none
  }

  rowChangeMs(): number {
    return gapTime(this.#rowChange, this.#setting.rowChangeMs)
  }

  restartPauseMs(): number {
    return gapTime(this.#pause, this.#setting.restartPauseMs)
  }

  handling(): Handling[] {
    return this.#setting.handling.map((row) => ({
      ...row,
      firstMs: this.#learnedMs(row, 'firstMs'),
      followingMs: this.#learnedMs(row, 'followingMs'),
      spreadPpm: Math.round(Math.sqrt(this.#variance(row)) * 1e6),
    }))
  }

  figures(): GapFigures {
    const time = (row: Handling, which: Which): LearnedTime => {
      const seen = this.#kinds.get(kindOf(row, which))
      return {
        settingMs: row[which],
        learnedMs: this.#learnedMs(row, which),
        gaps: seen?.count ?? 0,
        lastMs: seen?.lastMs ?? null,
      }
    }
    return {
      handling: this.#setting.handling.map((row) => ({
        sizeClass: row.sizeClass,
        finish: row.finish,
        first: time(row, 'firstMs'),
        following: time(row, 'followingMs'),
        spreadPpm: Math.round(Math.sqrt(this.#variance(row)) * 1e6),
      })),
      rowChange: learnedGap(this.#rowChange, this.#setting.rowChangeMs),
      restartPause: learnedGap(this.#pause, this.#setting.restartPauseMs),
    }
  }

  /** A product without a family is prepared on its own, as the first of one. */
  #whichOf(take: TakeFact): Which {
    const isFirst = take.familyId === null || !this.#families.has(`${take.jobId} ${take.familyId}`)
    return isFirst ? 'firstMs' : 'followingMs'
  }

  #seeGap(seen: Seen, settingMs: number, gapMs: number, atMs: number): boolean {
    const expected = seen.level(0, settingWorth)
    const off = offOf(gapMs, Math.max(leastMs, settingMs), expected)
    if (off === null) return false
    seen.add(expected + off, 1, off, atMs)
    return true
  }

  #seeHandling(take: TakeFact, which: Which, handlingMs: number): boolean {
    const row = this.#settingOf.get(`${take.sizeClass} ${take.finish}`)
    if (!row) return false
    const kind = kindOf(row, which)
    const expected = this.#ratio(kind)
    const off = offOf(handlingMs, medianOf(Math.max(leastMs, row[which]), this.#settingVariance), expected)
    if (off === null) return false
    const seen = [
      seenOf(this.#kinds, kind),
      seenOf(this.#spreads, `${row.sizeClass} ${row.finish}`),
      this.#all,
    ]
    for (const each of seen) each.add(expected + off, 1, off, take.startedMs)
    return true
  }

  #ratio(kind: string): number {
    const all = this.#all.level(0, settingWorth)
    return this.#kinds.get(kind)?.level(all, studioWorth) ?? all
  }

  #learnedMs(row: Handling, which: Which): number {
    // What is set to nothing stays nothing until its own gaps have shown otherwise.
    const isUnseen = !this.#kinds.has(kindOf(row, which))
    const base = isUnseen ? row[which] : Math.max(leastMs, row[which])
    const median = medianOf(base, this.#settingVariance) * Math.exp(this.#ratio(kindOf(row, which)))
    return Math.round(median * Math.exp(this.#variance(row) / 2))
  }

  get #settingVariance(): number {
    return (this.#setting.handlingSpreadPpm / 1e6) ** 2
  }

  #variance(row: Pick<Handling, 'sizeClass' | 'finish'>): number {
    const all = this.#all.variance(this.#settingVariance, settingWorth)
    return this.#spreads.get(`${row.sizeClass} ${row.finish}`)?.variance(all, spreadWorth) ?? all
  }
}

function kindOf(row: Handling, which: Which): string {
  return `${row.sizeClass} ${row.finish} ${which}`
}

/** How far a gap's log ratio to the setting is from the one expected; null where it was a break. */
function offOf(gapMs: number, settingMs: number, expected: number): number | null {
  const part = Math.max(gapMs, 1) / (settingMs * Math.exp(expected))
  return part > breakFrom ? null : Math.log(Math.max(part, leastPart))
}

/** The median of a lognormal time of this mean. */
function medianOf(meanMs: number, variance: number): number {
  return meanMs * Math.exp(-variance / 2)
}

function seenOf(map: Map<string, Seen>, key: string): Seen {
  let seen = map.get(key)
  if (!seen) {
    seen = new Seen()
    map.set(key, seen)
  }
  return seen
}

/** The mean of a time between takes; a setting nobody has tested is taken as the mean already. */
function gapTime(seen: Seen, settingMs: number): number {
  if (seen.count === 0) return settingMs
  const median = Math.max(leastMs, settingMs) * Math.exp(seen.level(0, settingWorth))
  return Math.round(median * Math.exp(seen.variance(0, settingWorth) / 2))
}

function learnedGap(seen: Seen, settingMs: number): LearnedTime {
  return { settingMs, learnedMs: gapTime(seen, settingMs), gaps: seen.count, lastMs: seen.lastMs }
}
