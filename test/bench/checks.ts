import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { keepCheck } from '../../db/takeChecks.ts'
import type { FrameFigures } from '../../main/trade/check/report.ts'
import { aReport } from '../check/aReport.ts'

const frames = 310
const takes = 60

/** Checks of takes spread over the studio, each with all its frames, some findings and answers to half of them. */
export function writeChecks(db: Db, now: string): readonly number[] {
  const ids = db
    .prepare('SELECT id FROM take WHERE ended_at IS NOT NULL AND id % ((SELECT count(*) FROM take) / ?) = 0')
    .pluck()
    .all(takes) as Id<'take'>[]
  const off = db.prepare('INSERT INTO take_finding_off (take_id, finding_key, at) VALUES (?, ?, ?)')
  for (const takeId of ids) {
    const findings = Array.from({ length: 20 }, (_, k) => ({
      key: `light:odd @${k}`,
      frames: [k + 1],
      sentence: `Frame ${k + 1} is 0.31 EV darker than the frames beside it.`,
      fault: 'flicker' as const,
    }))
    const of = { framesOfTake: frames, framesRead: frames, findings }
    const report = JSON.stringify(aReport({ ...of, frames: Array.from({ length: frames }, figuresOf) }))
    keepCheck({ db, now }, takeId, { folders: ['/frames'], framesRead: frames, report })
    for (const { key } of findings.slice(0, 10)) off.run(takeId, key, now)
  }
  return ids
}

function figuresOf(_: unknown, at: number): FrameFigures {
  const wave = Math.round(1e4 * Math.sin(at)) / 1e4
  return {
    frame: at + 1,
    file: `IMG_${String(at + 1).padStart(4, '0')}.JPG`,
    problem: null,
    frameY: 0.4 + wave / 10,
    backdropY: 0.6 + wave / 10,
    platterY: 0.5 + wave / 10,
    productY: 0.3 + wave / 10,
    luminanceEv: wave,
    changeEv: wave / 2,
    stepRatio: 1 + wave,
    match: Math.abs(wave),
  }
}
