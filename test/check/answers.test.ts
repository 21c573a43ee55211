import { describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { keepCheck } from '../../db/takeChecks.ts'
import { noSettings } from '../../main/trade/check/files/exifSettings.ts'
import { fileFindings } from '../../main/trade/check/files/fileFindings.ts'
import type { FrameFacts } from '../../main/trade/check/files/frameFacts.ts'
import type { TakeReport } from '../../main/trade/check/report.ts'
import { standingOf } from '../../renderer/check/answered.ts'
import { atTheBench } from '../takes/aSpin.ts'
import { aReport } from './aReport.ts'

const flicker = {
  key: 'flicker',
  frames: [3, 4, 7],
  sentence: 'The light flickers by 0.08 EV.',
  fault: 'flicker',
} as const
const known = { key: 'settings 2', frames: [2], sentence: 'ISO went from 100 to 200.', fault: null } as const

/** A kept report with two findings of a take of eight frames. */
async function aCheckedTake(report: Partial<TakeReport> = {}) {
  const bench = await atTheBench()
  const takeId = (await bench.start()) as Id<'take'>
  await bench.shoot(takeId, 8)
  const json = JSON.stringify(aReport({ findings: [flicker, known], framesRead: 8, ...report }))
  keepCheck(bench.studio.writing, takeId, { folders: ['/frames'], framesRead: 8, report: json })
  const { takeCheck, takes } = bench.api
  return {
    bench,
    takeId,
    takeCheck,
    faults: async () => (await takes.one({ takeId })).faults,
    answers: async () => (await takeCheck.report({ takeId })).answers,
  }
}

describe('what a person says of a finding', () => {
  it('makes it the take’s fault, once, and tells the job’s history', async () => {
    const { bench, takeId, takeCheck, faults, answers } = await aCheckedTake()
    expect(await faults()).toEqual([])
    const { faultIds } = await takeCheck.agree({ takeId, key: 'flicker', note: 'Lamp 2.' })
    expect(await takeCheck.agree({ takeId, key: 'flicker' })).toEqual({ faultIds })
    expect(await faults()).toMatchObject([
      { kind: 'flicker', frame: 3, note: 'The light flickers by 0.08 EV. Lamp 2.' },
      { kind: 'flicker', frame: 7 },
    ])
    expect(await answers()).toMatchObject([{ key: 'flicker', answer: 'agreed', faultIds }])
    const { entries } = await historyOf(bench)
    expect(entries.filter((what) => what === 'fault: flicker')).toHaveLength(2)
  })

  it('waves it off, and is taken back', async () => {
    const { bench, takeId, takeCheck, faults, answers } = await aCheckedTake()
    await takeCheck.agree({ takeId, key: 'flicker' })
    await takeCheck.waveOff({ takeId, key: 'flicker', note: 'Seen in the preview alone.' })
    expect(await faults()).toEqual([])
    expect(await answers()).toMatchObject([
      { key: 'flicker', answer: 'waved off', note: 'Seen in the preview alone.', faultIds: [] },
    ])
    await takeCheck.agree({ takeId, key: 'flicker' })
    expect(await answers()).toMatchObject([{ answer: 'agreed' }])
    await takeCheck.undo({ takeId, key: 'flicker' })
    expect(await faults()).toEqual([])
    expect(await answers()).toEqual([])
    expect((await historyOf(bench)).entries).toEqual(
      expect.arrayContaining(['finding waved off', 'no fault after all: flicker']),
    )
  })

  it('holds also of a file whose name is as long as a file system takes', async () => {
    // Names of 255 bytes: POSIX's NAME_MAX on Linux, and the most of APFS and NTFS in characters. From memory.
    const turn = [1, 2, 4].map(
      (number): FrameFacts => ({
        file: `${'é'.repeat(123)}_000${number}.JPG`,
        bytes: 9_000_000,
        contentHash: `hash of ${number}`,
        from: 'picture',
        widthPx: 6000,
        heightPx: 4000,
        orientation: 1,
        time: null,
        settings: noSettings,
        ticket: null,
        trouble: null,
      }),
    )
    expect(Buffer.byteLength(turn[0]?.file ?? '')).toBe(255)
    const { findings } = fileFindings(turn.map((facts, at) => ({ frame: at + 1, facts })))
    const [gap] = findings
    if (!gap) throw new Error('The gap was not found.')
    expect(gap).toMatchObject({ frames: [3], fault: 'missed step' })
    const { takeId, takeCheck, answers } = await aCheckedTake({ findings })
    await takeCheck.agree({ takeId, key: gap.key })
    expect(await answers()).toMatchObject([{ key: gap.key, answer: 'agreed' }])
    await takeCheck.waveOff({ takeId, key: gap.key })
    expect(await answers()).toMatchObject([{ key: gap.key, answer: 'waved off' }])
  })

  it('is heard of again once it has doubled since it was waved off, whatever the limits are by then', async () => {
    const found = {
      key: 'light:flicker',
      frames: [4],
      sentence: 'It flickers.',
      fault: 'flicker',
      size: 0.08,
    } as const
    const { takeId, takeCheck, answers } = await aCheckedTake({ findings: [found] })
    await takeCheck.waveOff({ takeId, key: found.key })
    const said = await answers()
    expect(said).toMatchObject([{ key: found.key, answer: 'waved off', size: 0.08 }])
    expect(standingOf({ ...found, size: 0.159 }, said)).toBe('none')
    expect(standingOf({ ...found, size: 0.16 }, said)).toBe('open')
    expect(standingOf({ ...found, size: 0.02 }, said)).toBe('none')
  })

  it('is open again where its faults are taken off the take one by one', async () => {
    const { bench, takeId, takeCheck, answers } = await aCheckedTake()
    const { faultIds } = await takeCheck.agree({ takeId, key: 'flicker' })
    for (const faultId of faultIds) await bench.api.takes.noFault({ faultId })
    expect(await answers()).toEqual([])
  })

  it('refuses what is no fault, and what the report does not hold', async () => {
    const { takeId, takeCheck, faults, answers } = await aCheckedTake()
    await expect(takeCheck.agree({ takeId, key: 'settings 2' })).rejects.toThrow(/no fault of the take/)
    await expect(takeCheck.agree({ takeId, key: 'bump 9' })).rejects.toThrow(/does not find this any more/)
    expect(await faults()).toEqual([])
    await takeCheck.waveOff({ takeId, key: 'settings 2' })
    expect(await answers()).toMatchObject([{ key: 'settings 2', answer: 'waved off' }])
  })
})

describe('the limits of the check', () => {
  it('start from common practice, change together, and refuse what finds nothing or everything', async () => {
    const { api, studio } = await atTheBench()
    const limits = await api.takeCheck.limits()
    await api.takeCheck.setLimits({ ...limits, flickerMev: 35 })
    expect(await api.takeCheck.limits()).toEqual({ ...limits, flickerMev: 35 })
    await expect(api.takeCheck.setLimits({ ...limits, flickerMev: 0 })).rejects.toThrow(/at least 0.001 EV/)
    await expect(api.takeCheck.setLimits({ ...limits, centreUm: 1_000_000 })).rejects.toThrow(/100 mm/)
    const told = studio.db
      .prepare(`SELECT detail FROM event WHERE what = 'limits of the check changed'`)
      .pluck()
      .all()
    expect(told).toHaveLength(1)
  })
})

async function historyOf({ studio, jobId }: Awaited<ReturnType<typeof atTheBench>>) {
  const entries = studio.db.prepare('SELECT what FROM event WHERE job_id = ? ORDER BY id').pluck().all(jobId)
  return { entries: entries as string[] }
}
