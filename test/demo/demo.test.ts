import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { beforeAll, describe, expect, it, onTestFinished } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { type Db, openStore } from '../../db/open.ts'
import { standingOf } from '../../db/standing.ts'
import { buildDemoStudio, type DemoOptions } from '../../main/demo/build.ts'
import type { TakeReport } from '../../main/trade/check/report.ts'
import { formatMoney } from '../../main/trade/money.ts'
import { stations } from '../../main/trade/standing.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aStudio } from '../studio.ts'

// A Wednesday afternoon long past: whatever took its time from the real clock would lie after it.
const madeAt = new Date('2025-03-12T14:30:00.000Z')
const today = '2025-03-12'

const places: string[] = []
function aFolder(): string {
  const place = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-demo-'))
  places.push(place)
  return path.join(place, 'demo')
}

async function aDemo(options: DemoOptions): Promise<{ db: Db; folder: string; lines: readonly string[] }> {
  const folder = aFolder()
  const lines: string[] = []
  await buildDemoStudio(folder, (line) => lines.push(line), options)
  return { db: openStore(path.join(folder, 'studio.db'), { readonly: true }), folder, lines }
}

describe('the demo studio', () => {
  let demo: Awaited<ReturnType<typeof aDemo>>

  beforeAll(async () => {
    demo = await aDemo({ madeAt })
    return () => {
      demo.db.close()
      for (const place of places) fs.rmSync(place, { recursive: true, force: true })
    }
  }, 240_000)

  const rows = <T>(sql: string, ...values: unknown[]) => demo.db.prepare(sql).all(...values) as T[]
  const one = <T>(sql: string, ...values: unknown[]) =>
    demo.db
      .prepare(sql)
      .pluck()
      .get(...values) as T

  it('has an open job at every station, some of them late, and jobs that ended in every way', () => {
    const open = rows<{ station: string }>('SELECT DISTINCT station FROM job_standing WHERE is_open = 1')
    expect(new Set(open.map(({ station }) => station))).toEqual(new Set(stations))
    expect(one('SELECT count(*) FROM job_standing WHERE is_open = 1 AND due_day < ?', today)).toBeGreaterThan(
      3,
    )
    const ended = rows<{ station: string }>('SELECT DISTINCT station FROM job_standing WHERE is_open = 0')
    expect(new Set(ended.map(({ station }) => station))).toEqual(new Set(['lost', 'cancelled', 'paid']))
    expect(one('SELECT count(*) FROM job_standing WHERE on_hold = 1')).toBe(1)
  })

  it('has a running take, a block today, a broken sample, a reshoot and an overdue invoice', () => {
    expect(one('SELECT count(*) FROM take WHERE ended_at IS NULL')).toBe(1)
    expect(one('SELECT count(*) FROM take_frame WHERE is_void = 1')).toBe(1)
    expect(
      one(`SELECT count(*) FROM booking WHERE kind = 'spins' AND starts_at LIKE ? || '%'`, today),
    ).toBeGreaterThan(0)
    expect(one(`SELECT count(*) FROM sample WHERE state = 'broken'`)).toBe(1)
    expect(one('SELECT count(*) FROM reshoot')).toBeGreaterThan(3)
    expect(
      one('SELECT count(*) FROM invoice_account WHERE open_minor > 0 AND due_day < ?', today),
    ).toBeGreaterThan(1)
  })

  it('has money at every turn: open in every band of age, paid in part and too much, given up, reminded of, and by the month', () => {
    const late = rows<{ days: number }>(
      `SELECT julianday(?) - julianday(due_day) AS days FROM invoice_account WHERE open_minor > 0`,
      today,
    ).map(({ days }) => days)
    for (const [from, to] of [
      [-60, 0],
      [1, 30],
      [31, 60],
      [61, 90],
      [91, 400],
    ] as const)
      expect(late.filter((days) => days >= from && days <= to).length, `${from} to ${to}`).toBeGreaterThan(0)
    expect(
      one(`SELECT count(*) FROM invoice_account a JOIN invoice i ON i.id = a.invoice_id
           WHERE a.open_minor > 0 AND a.open_minor < i.payable_minor`),
    ).toBeGreaterThan(0)
    expect(
      one(`SELECT sum(p.amount_minor) - (SELECT sum(s.amount_minor) FROM payment_share s) FROM payment p`),
    ).toBe(5000)
    expect(one('SELECT count(*) FROM write_off')).toBe(1)
    expect(one('SELECT count(*) FROM reminder')).toBe(2)
    expect(
      one(`SELECT max(jobs) FROM (SELECT count(DISTINCT l.job_id) AS jobs FROM invoice i
           JOIN invoice_line l ON l.invoice_id = i.id WHERE i.job_id IS NULL GROUP BY i.id)`),
    ).toBeGreaterThan(1)
  })

  it('has an extra that is agreed and one that waits, a reshoot that can be billed, and terms for bench time', () => {
    expect(rows('SELECT state FROM extra ORDER BY id')).toEqual([{ state: 'agreed' }, { state: 'proposed' }])
    expect(
      one(`SELECT count(*) FROM (SELECT shoot_id FROM reshoot WHERE cause = 'client''s wish'
           GROUP BY shoot_id HAVING count(*) > 1)`),
    ).toBe(1)
    expect(one('SELECT count(DISTINCT kind) FROM term')).toBe(3)
    expect(one(`SELECT count(*) FROM quote_line WHERE kind = 'right'`)).toBeGreaterThan(1)
  })

  it('keeps the standing of every job as its facts give it', () => {
    const columns = rows<{ name: string }>(`SELECT name FROM pragma_table_info('job_standing')`).map(
      (c) => c.name,
    )
    const stored = rows<Record<string, unknown>>(
      `SELECT job_id, station, is_open, waits_for, due_day, on_hold, spins, at_samples_in, at_bench, at_takes, at_pick,
         at_yes, at_delivery, delivered, bench_ms_left, value_minor, client_id, priority FROM job_standing`,
    )
    expect(stored.length).toBeGreaterThan(70)
    for (const row of stored) {
      expect(Object.keys(row)).toEqual(columns)
      expect(Object.values(row)).toEqual(standingOf(demo.db, row.job_id as Id<'job'>))
    }
  })

  it('keeps which spins have the yes on which rig as answers and picks give it', () => {
    const workedOut = rows(
      `SELECT v.rig_id, p.shoot_id, max(t.id) AS take_id, max(a.answered_at) AS answered_at
       FROM answer a JOIN pick p ON p.shoot_id = a.shoot_id AND p.deliverable_id = a.deliverable_id
       JOIN take t ON t.id = p.take_id JOIN rig_revision v ON v.id = t.rig_revision_id
       WHERE a.verdict = 'yes' AND a.withdrawn_at IS NULL AND p.withdrawn_at IS NULL
       GROUP BY v.rig_id, p.shoot_id ORDER BY v.rig_id, p.shoot_id`,
    )
    expect(workedOut.length).toBeGreaterThan(100)
    expect(rows('SELECT * FROM rig_approval ORDER BY rig_id, shoot_id')).toEqual(workedOut)
    const counted = 'SELECT rig_id, finish, size_step, answered, approved, last_yes_at FROM rig_evidence'
    expect(rows(`${counted} WHERE answered > 0 ORDER BY rig_id, finish, size_step`)).toEqual(
      rows(
        `SELECT rig_id, finish, size_step, count(*) AS answered, sum(is_yes) AS approved,
           max(CASE is_yes WHEN 1 THEN answered_at END) AS last_yes_at
         FROM rig_answer GROUP BY rig_id, finish, size_step ORDER BY rig_id, finish, size_step`,
      ),
    )
  })

  it('has rigs with faults, rejected takes, spins that did not please, and pictures of first frames', () => {
    expect(one('SELECT count(DISTINCT rig_id) FROM rig_fault WHERE faults > 0')).toBeGreaterThan(1)
    expect(one(`SELECT count(*) FROM take WHERE verdict = 'reject'`)).toBeGreaterThan(5)
    expect(one('SELECT count(*) FROM rig_answer WHERE is_yes = 0')).toBeGreaterThan(2)
    expect(one('SELECT count(*) FROM take_picture')).toBeGreaterThan(30)
  })

  it('has takes that were checked: a report with every frame, findings answered both ways, contact strips', () => {
    const reports = rows<{ report: string }>('SELECT report FROM take_check').map(
      ({ report }) => JSON.parse(report) as TakeReport,
    )
    expect(reports.length).toBe(2)
    for (const { framesOfTake, framesRead, frames } of reports) {
      expect(framesRead).toBe(framesOfTake)
      expect(frames.filter(({ luminanceEv }) => luminanceEv !== null)).toHaveLength(framesOfTake)
    }
    expect(one('SELECT count(*) FROM take_fault WHERE finding_key IS NOT NULL')).toBeGreaterThan(0)
    expect(one('SELECT count(*) FROM contact_strip WHERE json_array_length(frames) = 24')).toBe(3)
  })

  it('points nowhere into nothing and is whole on the disk', () => {
    expect(demo.db.pragma('foreign_key_check')).toEqual([])
    expect(demo.db.pragma('integrity_check', { simple: true })).toBe('ok')
  })

  it('lies within the two years before it was made, by no other clock than its own', () => {
    const instants = rows<{ tab: string; col: string }>(
      `SELECT m.name AS tab, c.name AS col FROM sqlite_schema m, pragma_table_info(m.name) c
       WHERE m.type = 'table' AND c.type = 'TEXT' AND (c.name = 'at' OR c.name LIKE '%\\_at' ESCAPE '\\')
         AND m.name <> 'booking'`,
    )
    expect(instants.length).toBeGreaterThan(30)
    for (const { tab, col } of instants) {
      const latest = one<string | null>(`SELECT max(${col}) FROM ${tab}`)
      expect(latest ?? '', `${tab}.${col}`).toSatisfy((at: string) => at <= madeAt.toISOString())
    }
    expect(one('SELECT min(started_at) FROM take') as string).toSatisfy((at: string) => at < '2023-06-01')
  })

  it('has takes whose steps lie where hands turn', () => {
    const medians = rows<{ ms: number }>(
      'SELECT median_step_ms AS ms FROM take WHERE median_step_ms IS NOT NULL ORDER BY median_step_ms',
    ).map(({ ms }) => ms)
    expect(medians.length).toBeGreaterThan(200)
    // Five to seven seconds a step: common practice, no published source.
    expect(medians[Math.floor(medians.length / 2)]).toBeGreaterThan(5000)
    expect(medians[Math.floor(medians.length / 2)]).toBeLessThan(7000)
    expect(one('SELECT count(DISTINCT kind) FROM take_fault')).toBeGreaterThan(5)
  })

  it('tells one job in full, with papers that lie where it says', async () => {
    const told = demo.lines.join('\n')
    for (const word of ['Quoted', 'Booked', 'Shot', 'Approved', 'Delivered', 'Billed', 'Paid']) {
      expect(told).toContain(`${word}: `)
    }
    const papers = demo.lines.flatMap((line) => (line.startsWith('  ') ? [line.trim()] : []))
    expect(papers.length).toBeGreaterThanOrEqual(5)
    for (const paper of papers) expect(fs.statSync(paper).size).toBeGreaterThan(500)

    const number = /invoice (I-[\d-]+)/u.exec(told)?.[1]
    const invoice = demo.db
      .prepare<[string], { totalMinor: number }>(
        'SELECT total_minor AS totalMinor FROM invoice WHERE number = ?',
      )
      .get(number ?? '')
    const pdf = papers.find((paper) => paper.endsWith(`${number}.pdf`))
    const text = (await readPdf(fs.readFileSync(pdf ?? ''))).pages.join(' ')
    const total = formatMoney(invoice?.totalMinor ?? 0, 'EUR', 'en')
    expect(plainly(text)).toContain(plainly(total))
  })
})

function plainly(text: string): string {
  return text.replaceAll(/\s/gu, '')
}

describe('making a demo studio', () => {
  it('gives the same numbers for the same instant, on a Sunday night too', async () => {
    const sunday = { madeAt: new Date('2025-03-16T22:50:00.000Z'), pastDays: 70 }
    const [first, second] = [await aDemo(sunday), await aDemo(sunday)]
    onTestFinished(() => {
      first.db.close()
      second.db.close()
    })
    const numbers = (db: Db) =>
      [
        'SELECT number, total_minor, sent_at FROM quote ORDER BY id',
        'SELECT number, total_minor, payable_minor, issue_day FROM invoice ORDER BY id',
        'SELECT shoot_id, started_at, ended_at, frames_shot, median_step_ms FROM take ORDER BY id',
        'SELECT * FROM job_standing ORDER BY job_id',
      ].map((sql) => db.prepare(sql).all())
    expect(numbers(first.db)).toEqual(numbers(second.db))
    const open = first.db.prepare('SELECT DISTINCT station FROM job_standing WHERE is_open = 1').pluck().all()
    expect(new Set(open)).toEqual(new Set(stations))
  }, 240_000)

  it('touches no folder with other files in it', async () => {
    const folder = aFolder()
    fs.mkdirSync(folder)
    fs.writeFileSync(path.join(folder, 'letter.txt'), 'not ours')
    await expect(buildDemoStudio(folder, () => {})).rejects.toThrow(/holds other files/u)
    expect(fs.readdirSync(folder)).toEqual(['letter.txt'])
  })

  it('touches no studio that is open, and none that is no demo', async () => {
    const { folder, house } = aStudio({ name: 'A studio with work in it' })
    await expect(buildDemoStudio(folder, () => {})).rejects.toThrow(/already open/u)
    house.leave()?.close()
    await expect(buildDemoStudio(folder, () => {})).rejects.toThrow(/no demo/u)
    expect(fs.existsSync(path.join(folder, 'studio.db'))).toBe(true)
  })
})
