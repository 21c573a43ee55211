import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { freeMinutes } from '../../main/trade/freeTime.ts'

const stretch = fc
  .tuple(fc.integer({ min: 0, max: 1440 }), fc.integer({ min: 0, max: 300 }))
  .map(([fromMinute, length]) => ({ fromMinute, toMinute: Math.min(1440, fromMinute + length) }))

describe('free time of a bench day', () => {
  it('is what is open, less what lies there, from now on', () => {
    const open = [
      { fromMinute: 540, toMinute: 720 },
      { fromMinute: 780, toMinute: 1020 },
    ]
    expect(freeMinutes(open, [], 0)).toBe(420)
    // 11:00 to 14:00 takes an hour before the break and one after it.
    expect(freeMinutes(open, [{ fromMinute: 660, toMinute: 840 }], 0)).toBe(300)
    expect(freeMinutes(open, [{ fromMinute: 660, toMinute: 840 }], 600)).toBe(240)
    expect(freeMinutes([], [{ fromMinute: 660, toMinute: 840 }], 600)).toBe(0)
  })

  it('is as many minutes as are found by asking each minute of the day', () => {
    fc.assert(
      fc.property(
        fc.array(stretch, { maxLength: 8 }),
        fc.integer({ min: 0, max: 540 }),
        fc.integer({ min: 60, max: 400 }),
        fc.integer({ min: 0, max: 1440 }),
        (taken, opens, length, from) => {
          const open = [
            { fromMinute: opens, toMinute: opens + length },
            { fromMinute: opens + length + 45, toMinute: opens + length + 400 },
          ]
          const isIn = (minute: number, all: readonly { fromMinute: number; toMinute: number }[]) =>
            all.some(({ fromMinute, toMinute }) => fromMinute <= minute && minute < toMinute)
          let free = 0
          for (let minute = from; minute < 1440; minute += 1) {
            if (isIn(minute, open) && !isIn(minute, taken)) free += 1
          }
          expect(freeMinutes(open, taken, from)).toBe(free)
        },
      ),
    )
  })
})
