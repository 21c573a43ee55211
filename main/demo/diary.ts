import type { Day } from '../trade/calendar.ts'

/** Half a day at a bench, in minutes of the studio's day. */
export interface HalfDay {
  readonly day: Day
  readonly benchId: number
  readonly fromMinute: number
  readonly toMinute: number
}

/** The opening hours a new studio starts with, morning and afternoon. */
const halves = [
  { fromMinute: 9 * 60, toMinute: 12 * 60 + 30 },
  { fromMinute: 13 * 60 + 15, toMinute: 17 * 60 + 30 },
] as const

/** Which half days of the benches are taken, so that no two stories book the same one, or one rig at two benches. */
export class BenchDiary {
  readonly #taken = new Map<string, string>()
  readonly #benchIds: readonly number[]

  constructor(benchIds: readonly number[]) {
    this.#benchIds = benchIds
  }

  /** Takes the first half day of a day at which a bench and the rig are free; undefined where there is none. */
  take(day: Day, rig: string): HalfDay | undefined {
    for (const half of halves) {
      const keyOf = (benchId: number) => `${day} ${half.fromMinute} ${benchId}`
      if (this.#benchIds.some((benchId) => this.#taken.get(keyOf(benchId)) === rig)) continue
      for (const benchId of this.#benchIds) {
        if (this.#taken.has(keyOf(benchId))) continue
        this.#taken.set(keyOf(benchId), rig)
        return { day, benchId, ...half }
      }
    }
    return undefined
  }
}
