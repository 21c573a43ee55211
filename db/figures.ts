import { dayOf } from '../main/trade/calendar.ts'
import type { SeenChance } from '../main/trade/chanceLearning.ts'
import type { LearnedTime } from '../main/trade/gapLearning.ts'
import type { LearnedStep } from '../main/trade/learning.ts'
import type { Finish, SizeClass } from '../main/trade/product.ts'
import { type Interval, wilson } from '../main/trade/wilson.ts'
import { studioZone } from './calendar.ts'
import { learnedPace, teachingTakes } from './learnedPace.ts'
import type { Db } from './open.ts'
import { studioFigures } from './pace.ts'
import { prepared } from './statement.ts'

/** A learned step with the day of its last take. */
export type ShownStep = Omit<LearnedStep, 'lastMs'> & { readonly lastDay: string | null }

/** A learned time with the day of its last gap. */
export type ShownTime = Omit<LearnedTime, 'lastMs'> & { readonly lastDay: string | null }

/** A chance with the range in which the true share probably lies, by what was seen alone. */
export type ShownChance = SeenChance & { readonly range: Interval }

/** What the studio's takes have taught, beside its settings. */
export interface StudioLearning {
  /** How many of the newest takes are learned from. */
  readonly teachingTakes: number
  readonly settingStepMs: number
  readonly step: ShownStep
  readonly settingSpreadPpm: number
  readonly spreadPpm: number
  readonly stops: { readonly medianStepMs: number; readonly share: number; readonly takes: number } | null
  readonly rigs: readonly (ShownStep & { readonly rigId: number; readonly name: string })[]
  readonly handling: readonly {
    readonly sizeClass: SizeClass
    readonly finish: Finish
    readonly first: ShownTime
    readonly following: ShownTime
    readonly spreadPpm: number
  }[]
  readonly settingHandlingSpreadPpm: number
  readonly rowChange: ShownTime
  readonly restartPause: ShownTime
  readonly restart: ShownChance
  readonly reshoot: ShownChance
}

/** Everything learned, with days in the studio's zone and ranges by Wilson. */
export function studioLearning(db: Db): StudioLearning {
  const { figures } = learnedPace(db)
  const setting = studioFigures(db)
  const zone = studioZone(db)
  const shown = <T extends { readonly lastMs: number | null }>({ lastMs, ...rest }: T) => ({
    ...rest,
    lastDay: lastMs === null ? null : dayOf(new Date(lastMs), zone),
  })
  const names = rigNames(db)
  const chance = (seen: SeenChance): ShownChance => ({ ...seen, range: wilson(seen.hits, seen.spins) })
  return {
    teachingTakes,
    settingStepMs: setting.stepMs,
    step: shown(figures.step),
    settingSpreadPpm: setting.stepSpreadPpm,
    spreadPpm: figures.stepSpreadPpm,
    stops: figures.stops,
    rigs: figures.rigs
      .map((rig) => ({ ...shown(rig), name: names.get(rig.rigId) ?? '' }))
      .sort((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true })),
    handling: figures.handling.map(({ first, following, ...of }) => ({
      ...of,
      first: shown(first),
      following: shown(following),
    })),
    settingHandlingSpreadPpm: setting.handlingSpreadPpm,
    rowChange: shown(figures.rowChange),
    restartPause: shown(figures.restartPause),
    restart: chance(figures.restart),
    reshoot: chance(figures.reshoot),
  }
}

function rigNames(db: Db): ReadonlyMap<number, string> {
  const rows = prepared<[], { id: number; name: string }>(db, 'SELECT id, name FROM rig').all()
  return new Map(rows.map(({ id, name }) => [id, name]))
}
