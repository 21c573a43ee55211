import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { aStudio, type TestStudio } from '../studio.ts'

const minute = 60_000
const hour = 60 * minute

/** Books bench 1, which opens 09:00–12:30 and 13:15–17:30 on weekdays, for something else. */
const take = (studio: TestStudio, day: string, fromMinute: number, toMinute: number) =>
  studio.api.bookings.add({
    blocks: [{ benchId: 1, kind: 'other', title: 'Portraits', day, fromMinute, toMinute }],
  })

const free = (studio: TestStudio, spinMs: number, allMs: number) => studio.api.calls.free({ spinMs, allMs })

describe('the next free bench day', () => {
  it('is today while a spin still fits before closing, and the next opening after that', async () => {
    const studio = aStudio()
    // Monday 2 March 2026, 16:00 in Berlin: an hour and a half is left.
    studio.setNow('2026-03-02T15:00:00.000Z')
    expect((await free(studio, 90 * minute, 90 * minute)).first).toMatchObject({
      day: '2026-03-02',
      freeMs: 90 * minute,
    })
    expect((await free(studio, 91 * minute, 91 * minute)).first).toMatchObject({ day: '2026-03-03' })
  })

  it('passes over the weekend, closures and days that are booked', async () => {
    const studio = aStudio()
    studio.setNow('2026-03-06T17:00:00.000Z')
    expect((await free(studio, hour, hour)).first?.day).toBe('2026-03-09')
    await studio.api.benches.addClosure({
      benchId: null,
      fromDay: '2026-03-09',
      toDay: '2026-03-10',
      reason: 'Fair',
    })
    await take(studio, '2026-03-11', 540, 750)
    await take(studio, '2026-03-11', 795, 1020)
    // 17:00 to 17:30 is left on Wednesday.
    expect((await free(studio, 30 * minute, 30 * minute)).first).toMatchObject({
      day: '2026-03-11',
      freeMs: 30 * minute,
    })
    expect((await free(studio, 31 * minute, 31 * minute)).first?.day).toBe('2026-03-12')
  })

  it('never breaks a spin over lunch, and counts whole spins until all fit', async () => {
    const studio = aStudio()
    // 3 h 30 before lunch and 4 h 15 after it hold one spin of 3 h each: two a day, so five need three days.
    const { first, allBy } = await free(studio, 3 * hour, 15 * hour)
    expect(first).toMatchObject({ day: '2026-03-02', freeMs: 7.75 * hour })
    expect(allBy?.day).toBe('2026-03-04')
    expect(await free(studio, 5 * hour, 5 * hour)).toEqual({ first: null, allBy: null })
  })

  it('is none where no bench opens', async () => {
    const studio = aStudio()
    studio.db.exec('DELETE FROM opening')
    expect(await free(studio, hour, hour)).toEqual({ first: null, allBy: null })
  })

  it('is found as by asking of every minute whether it is free', async () => {
    const block = fc.record({
      day: fc.integer({ min: 2, max: 6 }),
      at: fc.integer({ min: 0, max: 28 }),
      long: fc.integer({ min: 1, max: 14 }),
    })
    await fc.assert(
      fc.asyncProperty(
        fc.array(block, { maxLength: 12 }),
        fc.integer({ min: 10, max: 240 }),
        async (blocks, spin) => {
          const studio = aStudio()
          studio.setNow('2026-03-02T07:00:00.000Z')
          const isOpen = (at: number) => (at >= 540 && at < 750) || (at >= 795 && at < 1050)
          const taken = new Set<string>()
          for (const { day, at, long } of blocks) {
            const [from, to] = [540 + at * 15, 540 + (at + long) * 15]
            await take(studio, `2026-03-0${day}`, from, to).then(
              () => {
                for (let each = from; each < to; each += 1) taken.add(`2026-03-0${day} ${each}`)
              },
              () => undefined,
            )
          }
          const hasRoom = (day: string) => {
            let run = 0
            for (let at = 0; at < 1440; at += 1) {
              run = isOpen(at) && !taken.has(`${day} ${at}`) ? run + 1 : 0
              if (run >= spin) return true
            }
            return false
          }
          const days = ['2026-03-02', '2026-03-03', '2026-03-04', '2026-03-05', '2026-03-06', '2026-03-09']
          const { first } = await free(studio, spin * minute, spin * minute)
          expect(first?.day).toBe(days.find(hasRoom))
        },
      ),
      { numRuns: 15 },
    )
  })
})
