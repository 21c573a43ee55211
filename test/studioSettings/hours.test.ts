import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { hoursText, readHours } from '../../renderer/studio/hours.ts'

describe('opening hours as a person writes them', () => {
  it('are read with hyphen, dash or word, with and without minutes', () => {
    const morning = { fromMinute: 9 * 60, toMinute: 12 * 60 + 30 }
    for (const text of ['9-12:30', '09:00–12:30', '9.00 - 12.30', '9 to 12:30']) {
      expect(readHours(text, 'Monday')).toEqual([morning])
    }
  })

  it('are several stretches with a comma between, and none where nothing is written', () => {
    expect(readHours('9–12, 13–24', 'Monday')).toEqual([
      { fromMinute: 540, toMinute: 720 },
      { fromMinute: 780, toMinute: 1440 },
    ])
    expect(readHours('  ', 'Sunday')).toEqual([])
  })

  it.each([
    ['mornings', 'no stretch of time'],
    ['9', 'no stretch of time'],
    ['9–24:01', 'no clock shows'],
    ['9:60–11', 'no clock shows'],
    ['12–9', 'ends before it begins'],
    ['13–17, 9–13:15', 'begins before the stretch in front of it ends'],
  ])('are refused as %s, naming the day', (text, why) => {
    expect(() => readHours(text, 'Monday')).toThrow(why)
    expect(() => readHours(text, 'Monday')).toThrow('Monday')
  })

  it('are read back from what is shown', () => {
    const stretch = fc
      .tuple(fc.integer({ min: 0, max: 1440 }), fc.integer({ min: 0, max: 1440 }))
      .filter(([from, to]) => from < to)
      .map(([fromMinute, toMinute]) => ({ fromMinute, toMinute }))
    fc.assert(
      fc.property(stretch, (one) => {
        expect(readHours(hoursText([one]), 'Monday')).toEqual([one])
      }),
    )
  })
})
