import { type SpokenChoice, spokenChoices } from '../../main/trade/benchVoice.ts'
import { cycleMs, type Rhythm } from '../../main/trade/pacing.ts'
import { storeOf } from '../shell/store.ts'
import { type BenchKeys, defaultKeys, keysFrom } from './keyChoices.ts'

/** What counts the frames here: a press, or the paced beat. */
export type Counting = 'key' | 'beat'

/** How this device serves at the bench: it goes with the tablet and its remote, not with the studio. */
export interface BenchChoices {
  readonly isSounding: boolean
  /** From 0 to 1. */
  readonly volume: number
  readonly spoken: SpokenChoice
  readonly counting: Counting
  /** Null while the rhythm follows the rig's median step. */
  readonly rhythm: Rhythm | null
  readonly keys: BenchKeys
}

const name = 'turnsheet-bench'

const firstChoices: BenchChoices = {
  isSounding: true,
  volume: 0.5,
  spoken: 'every tenth',
  counting: 'key',
  rhythm: null,
  keys: defaultKeys,
}

export const benchChoices = storeOf<BenchChoices>(choicesFrom(keptText()))

/** Changes some of this device's choices and keeps them. */
export function chooseAtBench(some: Partial<BenchChoices>): void {
  const next = { ...benchChoices.get(), ...some }
  benchChoices.set(next)
  localStorage.setItem(name, JSON.stringify(next))
}

function keptText(): string | null {
  return typeof localStorage === 'undefined' ? null : localStorage.getItem(name)
}

/** Reads what a device kept; whatever is missing or does not make sense is as on a new device. */
export function choicesFrom(text: string | null): BenchChoices {
  const kept = recordOf(text)
  const { volume } = kept
  return {
    isSounding: kept.isSounding !== false,
    volume: typeof volume === 'number' && volume >= 0 && volume <= 1 ? volume : firstChoices.volume,
    spoken: spokenChoices.find((one) => one === kept.spoken) ?? firstChoices.spoken,
    counting: kept.counting === 'beat' ? 'beat' : 'key',
    rhythm: rhythmFrom(kept.rhythm),
    keys: keysFrom(kept.keys),
  }
}

function recordOf(text: string | null): Readonly<Record<string, unknown>> {
  try {
    const value: unknown = JSON.parse(text ?? '{}')
    return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}
  } catch {
    return {}
  }
}

function rhythmFrom(kept: unknown): Rhythm | null {
  const rhythm = kept as Rhythm | null | undefined
  if (typeof rhythm !== 'object' || rhythm === null) return null
  try {
    cycleMs(rhythm)
    return { moveMs: rhythm.moveMs, waitMs: rhythm.waitMs, shootMs: rhythm.shootMs }
  } catch {
    return null
  }
}
