import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays } from '../../main/trade/calendar.ts'
import { stations } from '../../main/trade/standing.ts'
import {
  daysThatFit,
  type Hangable,
  hang,
  lanePx,
  pitchPx,
  placeOf,
  slotPx,
} from '../../renderer/board/hanging.ts'

const stretch = { firstDay: '2026-02-25', days: 14 }

function aJob(of: Partial<Hangable> = {}): Hangable {
  return { jobId: 1, station: 'bench', dueDay: '2026-03-02', priority: 'normal', ...of }
}

const anyJob = fc.record({
  station: fc.constantFrom(...stations),
  dueDay: fc.option(fc.integer({ min: -30, max: 60 }).map((days) => addDays('2026-03-02', days))),
  priority: fc.constantFrom('low' as const, 'normal' as const, 'high' as const),
})

describe('what hangs on the board', () => {
  it('hangs every job once, under its own station', () => {
    fc.assert(
      fc.property(fc.array(anyJob, { maxLength: 120 }), (drawn) => {
        const jobs = drawn.map((job, index) => ({ ...job, jobId: index }))
        const hung = hang(jobs, stretch).flatMap((line) =>
          line.hung.flatMap((each) =>
            (each.kind === 'job' ? [each.job] : each.jobs).map((job) => [job.jobId, line.station]),
          ),
        )
        expect(hung.sort((a, b) => Number(a[0]) - Number(b[0]))).toEqual(
          jobs.map(({ jobId, station }) => [jobId, station]),
        )
      }),
    )
  })

  it('lays nothing over anything else', () => {
    fc.assert(
      fc.property(fc.array(anyJob, { maxLength: 120 }), (drawn) => {
        const lines = hang(
          drawn.map((job, jobId) => ({ ...job, jobId })),
          stretch,
        )
        for (const { hung } of lines) {
          const boxes = hung.map((each) => ({
            lane: each.lane,
            from: each.x - pitchPx / 2,
            // 158 px is what the style sheet gives a ring with its words, and 36 px a ring alone or a count.
            to: each.x - pitchPx / 2 + (each.kind === 'job' && !each.isBare ? 158 : 36),
          }))
          for (const [at, box] of boxes.entries()) {
            for (const other of boxes.slice(at + 1)) {
              const apart = box.lane !== other.lane || box.to <= other.from || other.to <= box.from
              expect(apart).toBe(true)
            }
          }
        }
      }),
    )
  })

  it('folds a crossing of more than three jobs to a count', () => {
    const three = [1, 2, 3].map((jobId) => aJob({ jobId }))
    const kinds = (jobs: readonly Hangable[]) =>
      hang(jobs, stretch).flatMap(({ hung }) => hung.map(({ kind }) => kind))
    expect(kinds(three)).toEqual(['job', 'job', 'job'])
    expect(kinds([...three, aJob({ jobId: 4 })])).toEqual(['fold'])
  })

  it('puts what comes first above what comes last', () => {
    const jobs = [
      aJob({ jobId: 1, priority: 'low' }),
      aJob({ jobId: 2 }),
      aJob({ jobId: 3, priority: 'high' }),
    ]
    const [line] = hang(jobs, stretch).filter(({ station }) => station === 'bench')
    expect(line?.hung.map((each) => [each.kind === 'job' && each.job.jobId, each.lane])).toEqual([
      [3, 0],
      [2, 1],
      [1, 2],
    ])
    expect(lanePx).toBeGreaterThan(36)
  })

  it('keeps a day’s place in step with the tape, and what is earlier, later and undated at the edges', () => {
    const end = slotPx + 14 * pitchPx
    expect(placeOf('2026-02-25', stretch)).toBe(slotPx + pitchPx / 2)
    expect(placeOf('2026-02-26', stretch)).toBe(slotPx + 1.5 * pitchPx)
    expect(placeOf('2026-01-01', stretch)).toBeLessThan(slotPx)
    expect(placeOf('2026-03-11', stretch)).toBe(end + pitchPx / 2)
    expect(placeOf(null, stretch)).toBeGreaterThanOrEqual(end + slotPx)
  })

  it('fits whole days between the edges, and five at least', () => {
    expect(daysThatFit(3 * slotPx + 10 * pitchPx + 35)).toBe(10)
    expect(daysThatFit(300)).toBe(5)
  })
})
