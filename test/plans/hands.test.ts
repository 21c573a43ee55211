import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { aStudio, type TestStudio } from '../studio.ts'
import { aWaitingJob, planOf } from './waiting.ts'

const week = [1, 2, 3, 4, 5].map((weekday) => ({ weekday, fromMinute: 540, toMinute: 1080 }))

async function aStudioOfTwo(benches: number) {
  const studio = aStudio()
  for (let bench = 2; bench <= benches; bench += 1) {
    await studio.api.benches.add({ name: `Bench ${bench}`, openings: week })
  }
  await studio.api.studio.addPerson({ name: 'Ilse Brandt', role: null, hourMinor: 28_00, turns: true })
  return studio
}

interface AtBench {
  readonly personId: number
  readonly bookingId: number
  readonly benchId: number
  readonly startsAt: string
  readonly endsAt: string
  readonly kind: string
}

/** Who is booked when, as the store has it. */
function booked({ db }: TestStudio): readonly AtBench[] {
  return db
    .prepare(
      `SELECT bp.person_id AS personId, b.id AS bookingId, b.bench_id AS benchId, b.starts_at AS startsAt,
         b.ends_at AS endsAt, b.kind FROM booking b JOIN booking_person bp ON bp.booking_id = b.id
       WHERE b.cancelled_at IS NULL ORDER BY b.starts_at`,
    )
    .all() as AtBench[]
}

function atTwoPlaces(all: readonly AtBench[]): readonly AtBench[] {
  return all.filter((one) =>
    all.some(
      (other) =>
        other.personId === one.personId &&
        other.bookingId !== one.bookingId &&
        other.startsAt < one.endsAt &&
        one.startsAt < other.endsAt,
    ),
  )
}

function minutesTurned(all: readonly AtBench[]): readonly number[] {
  const days = Map.groupBy(
    all.filter(({ kind }) => kind === 'spins'),
    ({ personId, startsAt }) => `${personId} ${startsAt.slice(0, 10)}`,
  )
  return [...days.values()].map((own) =>
    own.reduce((sum, { startsAt, endsAt }) => sum + (Date.parse(endsAt) - Date.parse(startsAt)) / 60_000, 0),
  )
}

describe('the people of a plan for several benches', () => {
  it('are booked one to a block: two at the same time on two benches have two pairs of hands', async () => {
    const studio = await aStudioOfTwo(2)
    await aWaitingJob(studio, [180], '2026-03-02')
    await aWaitingJob(studio, [180], '2026-03-02')
    const plan = await planOf(studio, { benchIds: [1, 2], personIds: [1, 2] })
    await studio.api.plans.accept({ planId: plan.planId })
    const all = booked(studio)
    expect(all.map(({ personId }) => personId).sort()).toEqual([1, 2])
    expect(new Set(all.map(({ benchId }) => benchId)).size).toBe(2)
    expect(all[0]?.startsAt).toBe(all[1]?.startsAt)
  })

  it('stay at the blocks that they are booked for and that the plan leaves in place', async () => {
    const studio = await aStudioOfTwo(2)
    const one = await aWaitingJob(studio, [120])
    const other = await aWaitingJob(studio, [120])
    const at = { day: '2026-03-02', fromMinute: 600, toMinute: 720 }
    await studio.api.bookings.add({
      blocks: [
        { ...at, benchId: 1, shootIds: one.shootIds, personIds: [2] },
        { ...at, benchId: 2, shootIds: other.shootIds, personIds: [1] },
      ],
    })
    await aWaitingJob(studio, [60, 60, 60])
    const plan = await planOf(studio, {
      benchIds: [1, 2],
      personIds: [1, 2],
      replan: true,
      keepsPlaces: true,
    })
    await studio.api.plans.accept({ planId: plan.planId })
    const [first] = await studio.api.bookings.ofJob({ jobId: one.jobId })
    const [second] = await studio.api.bookings.ofJob({ jobId: other.jobId })
    expect(first).toMatchObject({ benchId: 1, fromMinute: 600, people: [{ id: 2 }] })
    expect(second).toMatchObject({ benchId: 2, fromMinute: 600, people: [{ id: 1 }] })
    expect(atTwoPlaces(booked(studio))).toEqual([])
  })

  it('stand together at one bench where both were chosen, but for whoever is away that day', async () => {
    const studio = await aStudioOfTwo(1)
    await aWaitingJob(studio, [200, 200, 200], '2026-03-02')
    await studio.api.studio.addAbsence({
      personId: 2,
      fromDay: '2026-03-03',
      toDay: '2026-03-03',
      reason: null,
    })
    const plan = await planOf(studio, { personIds: [1, 2] })
    expect(new Map(plan.blocks.map(({ day, personIds }) => [day, personIds]))).toEqual(
      new Map([
        ['2026-03-02', [1, 2]],
        ['2026-03-03', [1]],
        ['2026-03-04', [1, 2]],
      ]),
    )
    await studio.api.plans.accept({ planId: plan.planId })
  })

  it('can always be found: with days of absence, blocks that stay on any bench and a cap, no accepted plan asks too much of one', async () => {
    const days = ['2026-03-02', '2026-03-03', '2026-03-04'] as const
    const stays = fc.record({
      day: fc.constantFrom(...days),
      benchId: fc.integer({ min: 1, max: 3 }),
      fromMinute: fc.constantFrom(600, 800),
      personId: fc.integer({ min: 1, max: 2 }),
    })
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.record({ personId: fc.integer({ min: 1, max: 2 }), day: fc.constantFrom(...days) }), {
          maxLength: 2,
        }),
        fc.uniqueArray(stays, {
          maxLength: 3,
          selector: ({ day, personId, fromMinute }) => `${day} ${personId} ${fromMinute}`,
        }),
        fc.array(fc.integer({ min: 40, max: 200 }), { minLength: 6, maxLength: 10 }),
        fc.constantFrom<number[]>([1, 2], [1, 2, 3]),
        async (absences, staying, minutes, benchIds) => {
          const studio = await aStudioOfTwo(3)
          studio.db.prepare('UPDATE pace SET turning_cap_minutes = 300').run()
          for (const { day, benchId, fromMinute, personId } of staying) {
            const { shootIds } = await aWaitingJob(studio, [110])
            const at = { benchId, day, fromMinute, toMinute: fromMinute + 110 }
            await studio.api.bookings
              .add({ blocks: [{ ...at, shootIds, personIds: [personId], isFixed: true }] })
              .catch((refused: Error) => expect(refused.message).toContain('is booked from'))
          }
          for (const { personId, day } of absences) {
            await studio.api.studio.addAbsence({ personId, fromDay: day, toDay: day, reason: null })
          }
          const before = new Set(booked(studio).map(({ bookingId }) => bookingId))
          await aWaitingJob(studio, minutes.slice(3), '2026-03-03')
          await aWaitingJob(studio, minutes.slice(0, 3), '2026-03-02')
          const plan = await planOf(studio, { benchIds, personIds: [1, 2] })
          await studio.api.plans.accept({ planId: plan.planId })
          const all = booked(studio)
          expect(atTwoPlaces(all)).toEqual([])
          expect(Math.max(...minutesTurned(all))).toBeLessThanOrEqual(300)
          for (const { bookingId, personId, startsAt } of all) {
            if (before.has(bookingId)) continue
            expect(absences).not.toContainEqual({ personId, day: startsAt.slice(0, 10) })
          }
        },
      ),
      {
        numRuns: 6,
        // Two jobs whose spins two people share on three benches, each a block of several: one of them has to be divided.
        examples: [
          [
            [
              { personId: 2, day: days[0] },
              { personId: 2, day: days[2] },
            ],
            [],
            [41, 200, 40, 41, 199, 91, 71, 92, 101, 118],
            [1, 2, 3],
          ],
        ],
        // To shrink a case takes minutes, and the runner would tell of the time alone.
        endOnFailure: true,
      },
    )
  }, 60_000)
})
