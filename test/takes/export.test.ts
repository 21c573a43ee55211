import { DateTime } from 'luxon'
import Papa from 'papaparse'
import { describe, expect, it } from 'vitest'
import { scansDuring } from '../jobs/plans.ts'
import type { TestStudio } from '../studio.ts'
import { atTheBench } from './aSpin.ts'

/** All parts of an export, as a page joins them. */
async function exported(
  api: TestStudio['api'],
  of: { jobId?: number; fromDay?: string; toDay?: string } = {},
) {
  const parts: string[] = []
  let after: { startedAt: string; takeId: number } | null = null
  do {
    const part: Awaited<ReturnType<typeof api.takeExport.csvPart>> = await api.takeExport.csvPart({
      ...of,
      after,
    } as never)
    parts.push(part.csv)
    after = part.next
  } while (after)
  return { text: parts.join(''), parts: parts.length }
}

type Row = Record<string, string>

/** Read by papaparse, which agrees with csv-parse and RFC 4180 on all of its examples. */
function read(text: string): Row[] {
  const { data, errors } = Papa.parse<Row>(text, { header: true, skipEmptyLines: true })
  expect(errors).toEqual([])
  return data
}

describe('takes as CSV', () => {
  it('are read back as they were turned, with units, both clocks, faults and pauses', async () => {
    const { api, start, shoot, pass, act } = await atTheBench([{ name: 'Kettle, "copper"' }])
    const takeId = await start()
    await shoot(takeId, 4)
    await act(takeId, { kind: 'pause', reason: null })
    pass(90_000)
    await shoot(takeId, 6)
    await api.takes.fault({ takeId, frame: 4, kind: 'bump', note: null })
    await api.takes.fault({ takeId, frame: null, kind: 'dust', note: null })
    await act(takeId, { kind: 'end' })
    await api.takes.judge({ takeId, verdict: 'reject', reason: '=SUM(A1)\r\nbumped; it "moved"' })
    const { text } = await exported(api)
    const [row, ...others] = read(text)
    expect(others).toEqual([])
    expect(row).toMatchObject({
      Take: String(takeId),
      Spin: 'Kettle, "copper"',
      'Frames per turn': '8',
      'Overlap (frames)': '2',
      'Frames shot': '10',
      'Median step (s)': '6',
      // 90 s and the step that ended the pause.
      'Paused (s)': '96',
      Verdict: 'reject',
      // OWASP ASVS 1.2.10: a quote before what a spreadsheet would run.
      Reason: '\'=SUM(A1)\r\nbumped; it "moved"',
      'Counted by': 'key',
    })
    expect(row?.Faults?.split('; ').sort()).toEqual(['bump at 4', 'dust'])
    const utc = row?.['Started (UTC)'] ?? ''
    expect(row?.['Started (Europe/Berlin)']).toBe(
      DateTime.fromISO(utc, { zone: 'Europe/Berlin' }).toFormat('yyyy-MM-dd HH:mm:ss'),
    )
  })

  it('write numbers bare, so that every program reads them as numbers', async () => {
    const { api, keep } = await atTheBench()
    await keep()
    const { text } = await exported(api)
    const [head = '', line = ''] = text.split('\r\n')
    expect(head.startsWith('\uFEFFTake,Job,')).toBe(true)
    expect(line).toMatch(/^\d+,/)
    expect(line).toContain(',8,2,10,6,0,')
    expect(text.endsWith('\r\n')).toBe(true)
  })

  it('are of a job or of some days alone, the last day within; a running one waits for its end', async () => {
    const { api, keep, pass, jobId, start } = await atTheBench([
      { name: 'Kettle' },
      { name: 'Jug' },
      { name: 'Cup' },
    ])
    await keep(0)
    pass(24 * 3_600_000)
    await keep(1)
    await start(2)
    const spins = async (of: Parameters<typeof exported>[1]) =>
      read((await exported(api, of)).text).map(({ Spin }) => Spin)
    expect(await spins({})).toEqual(['Kettle', 'Jug'])
    expect(await spins({ jobId })).toEqual(['Kettle', 'Jug'])
    expect(await spins({ jobId: jobId + 1 })).toEqual([])
    expect(await spins({ fromDay: '2026-03-02', toDay: '2026-03-02' })).toEqual(['Kettle'])
    expect(await spins({ fromDay: '2026-03-03' })).toEqual(['Jug'])
    await expect(exported(api, { fromDay: '2026-03-03', toDay: '2026-03-02' })).rejects.toThrow(
      'before the first',
    )
  })

  it('come in parts that join to one file, each take once, also those begun at the same instant', async () => {
    const { api, studio, keep } = await atTheBench()
    const takeId = await keep()
    // Copies of the take at one instant: more than two parts of 500.
    studio.db
      .prepare(
        `WITH RECURSIVE n (k) AS (SELECT 2 UNION ALL SELECT k + 1 FROM n WHERE k < 1203)
         INSERT INTO take (shoot_id, row, number, rig_revision_id, settings_id, bench_id, person_id, device_id,
           frames_per_turn, overlap_frames, started_at, ended_at, frames_shot)
         SELECT shoot_id, row, k, rig_revision_id, settings_id, bench_id, person_id, device_id, frames_per_turn,
           overlap_frames, started_at, ended_at, frames_shot FROM take, n WHERE take.id = ?`,
      )
      .run(takeId)
    const { text, parts } = await exported(api)
    expect(parts).toBe(3)
    const ids = read(text).map(({ Take }) => Number(Take))
    expect(ids).toHaveLength(1203)
    expect(new Set(ids).size).toBe(1203)
    expect(text.match(/\uFEFF/g)).toHaveLength(1)
  })

  it('read no table from end to end but the takes by their start, up to a limit', async () => {
    const { api, studio, keep, jobId } = await atTheBench()
    await keep()
    const scans = await scansDuring(studio.db, async () => {
      await exported(api)
      await exported(api, { jobId })
      await exported(api, { fromDay: '2026-03-01', toDay: '2026-03-09' })
    })
    expect(scans).toEqual([])
  })
})
