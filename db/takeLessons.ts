import { localText } from '../main/trade/calendar.ts'
import { type TakeLessons, type TaughtTake, takeLessons } from '../main/trade/takeLessons.ts'
import { type TakePace, takePace } from '../main/trade/takePace.ts'
import type { FaultKind } from '../main/trade/takes.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import { haveTakesChanged, type TakesStamp, takesStamp, teachingTakes } from './learnedPace.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'
import { framesOf, pausesOf } from './takeFrames.ts'

/** What the newest takes teach about hours, rigs and people, by name. */
export interface StudioLessons extends Omit<TakeLessons, 'rigs' | 'people'> {
  readonly teachingTakes: number
  readonly rigs: readonly (TakeLessons['rigs'][number] & { readonly name: string })[]
  readonly people: readonly (TakeLessons['people'][number] & { readonly name: string })[]
}

const known = new WeakMap<
  Db,
  { readonly zone: string; readonly stamp: TakesStamp; readonly lessons: TakeLessons }
>()

/**
 * What the newest takes teach: as many as estimates learn from. Worked out anew when a take was ended, judged or found
 * faulty, and kept until then.
 */
export function studioLessons(db: Db): StudioLessons {
  const lessons = lessonsOf(db)
  const names = (table: 'rig' | 'person') =>
    new Map(
      prepared<[], { id: number; name: string }>(db, `SELECT id, name FROM ${table}`)
        .all()
        .map(({ id, name }) => [id, name]),
    )
  const [rigs, people] = [names('rig'), names('person')]
  const byName = (a: { readonly name: string }, b: { readonly name: string }) =>
    a.name.localeCompare(b.name, 'en', { numeric: true })
  return {
    ...lessons,
    teachingTakes,
    rigs: lessons.rigs.map((one) => ({ ...one, name: rigs.get(one.rigId) ?? '' })).sort(byName),
    people: lessons.people.map((one) => ({ ...one, name: people.get(one.personId) ?? '' })).sort(byName),
  }
}

function lessonsOf(db: Db): TakeLessons {
  const zone = studioZone(db)
  const before = known.get(db)
  if (before?.zone === zone && !haveTakesChanged(db, before.stamp)) return before.lessons
  const stamp = takesStamp(db)
  const lessons = takeLessons(newestTaught(db, zone))
  // What a transaction sees may be taken back, and the next one could bear the same stamp.
  if (!db.inTransaction) known.set(db, { zone, stamp, lessons })
  return lessons
}

function newestTaught(db: Db, zone: string): readonly TaughtTake[] {
  return prepared<
    [number],
    {
      rigId: number
      personId: number
      startedAt: string
      endedAt: string
      stepMs: number | null
      faults: string | null
      verdict: 'keep' | 'reject' | null
    }
  >(
    db,
    `SELECT rev.rig_id AS rigId, take.person_id AS personId, take.started_at AS startedAt, take.ended_at AS endedAt,
       take.median_step_ms AS stepMs, take.verdict,
       (SELECT group_concat(f.kind, ';') FROM take_fault f WHERE f.take_id = take.id) AS faults
     FROM take CROSS JOIN rig_revision rev ON rev.id = take.rig_revision_id
     WHERE take.started_at > '' AND take.ended_at IS NOT NULL ORDER BY take.started_at DESC, take.id DESC LIMIT ?`,
  )
    .all(teachingTakes)
    .map(({ startedAt, endedAt, faults, ...rest }) => {
      // One look at the clock for both: a thousand takes are told at once.
      const local = localText(startedAt, zone)
      return {
        ...rest,
        startedMs: Date.parse(startedAt),
        endedMs: Date.parse(endedAt),
        localDay: local.slice(0, 10),
        localMinute: Number(local.slice(11, 13)) * 60 + Number(local.slice(14, 16)),
        faults: (faults?.split(';') ?? []) as FaultKind[],
      }
    })
}

/** How a take went along its turn; undefined where the studio does not have it. */
export function paceOfTake(db: Db, takeId: Id<'take'>): TakePace | undefined {
  const take = prepared<[number], { framesPerTurn: number; overlapFrames: number }>(
    db,
    'SELECT frames_per_turn AS framesPerTurn, overlap_frames AS overlapFrames FROM take WHERE id = ?',
  ).get(takeId)
  if (!take) return undefined
  const faults = prepared<[number], { frame: number | null; kind: FaultKind; note: string | null }>(
    db,
    'SELECT frame, kind, note FROM take_fault WHERE take_id = ? ORDER BY frame, id',
  ).all(takeId)
  return takePace({ ...take, frames: framesOf(db, takeId), pauses: pausesOf(db, takeId), faults })
}
