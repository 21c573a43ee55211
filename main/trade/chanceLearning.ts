import type { Pace } from './pace.ts'
import { betaMean } from './shrinkage.ts'
import type { TakeFact } from './takeFact.ts'

/** A chance as it was set, as it was seen, and as estimates use it; shares from 0 to 1. */
export interface SeenChance {
  readonly setting: number
  readonly hits: number
  readonly spins: number
  readonly chance: number
}

/** Spins that the setting of a chance is worth. */
const settingWorth = 20
/** The next take of a spin after this long finds its set gone, even where nobody called for a reshoot. */
export const setGoneAfterMs = 4 * 3_600_000

interface SpinSoFar {
  isCounted: boolean
  isRestarted: boolean
  isReshot: boolean
  reshoots: number
  rejectedAtMs: number | null
}

/**
 * Learns the two chances of a spin. A restart: a take was rejected and turned again while the set stood. A
 * reshoot: it was called for again (other than by the client's own wish), or turned again after a rejected take
 * when the set was gone. Each counts once a spin; a spin counts from its first kept take on.
 */
export class ChanceLearning {
  readonly #setting: Pace
  readonly #spins = new Map<number, SpinSoFar>()
  #counted = 0
  #restarts = 0
  #reshoots = 0

  constructor(setting: Pace) {
    this.#setting = setting
  }

  see(take: TakeFact): void {
    const spin = this.#spinOf(take)
    if (take.reshoots > spin.reshoots) {
      this.#reshoot(spin)
      spin.reshoots = take.reshoots
    } else if (spin.rejectedAtMs !== null) {
      if (take.startedMs - spin.rejectedAtMs < setGoneAfterMs) this.#restart(spin)
      else this.#reshoot(spin)
    }
    spin.rejectedAtMs = take.verdict === 'reject' ? take.endedMs : null
    if (take.verdict !== 'keep' || spin.isCounted) return
    spin.isCounted = true
    this.#counted += 1
    if (spin.isRestarted) this.#restarts += 1
    if (spin.isReshot) this.#reshoots += 1
  }

  restart(): SeenChance {
    return this.#chance(this.#setting.restartPpm, this.#restarts)
  }

  reshoot(): SeenChance {
    return this.#chance(this.#setting.reshootPpm, this.#reshoots)
  }

  #spinOf({ shootId, reshoots }: TakeFact): SpinSoFar {
    let spin = this.#spins.get(shootId)
    if (!spin) {
      spin = { isCounted: false, isRestarted: false, isReshot: false, reshoots, rejectedAtMs: null }
      this.#spins.set(shootId, spin)
    }
    return spin
  }

  #restart(spin: SpinSoFar): void {
    if (spin.isRestarted) return
    spin.isRestarted = true
    if (spin.isCounted) this.#restarts += 1
  }

  #reshoot(spin: SpinSoFar): void {
    if (spin.isReshot) return
    spin.isReshot = true
    if (spin.isCounted) this.#reshoots += 1
  }

  #chance(settingPpm: number, hits: number): SeenChance {
    const setting = settingPpm / 1e6
    const spins = this.#counted
    return { setting, hits, spins, chance: betaMean(setting, settingWorth, hits, spins) }
  }
}
