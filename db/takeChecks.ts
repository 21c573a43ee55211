import { faultsOfFinding } from '../main/trade/check/agreeing.ts'
import type { Finding } from '../main/trade/check/finding.ts'
import type { TakeReport } from '../main/trade/check/report.ts'
import { Refusal } from '../main/trade/refusal.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { jobOfTake, tellOfTake } from './takeEvents.ts'
import { addFault, removeFault } from './takes.ts'

/** The last whole report of a take's check, as it was kept. */
export interface KeptCheck {
  /** The folders its frames were read in, in the order it went on. */
  readonly folders: readonly string[]
  readonly framesRead: number
  readonly checkedAt: string
  readonly report: TakeReport
}

/** What a person said of a finding. */
export interface FindingAnswer {
  readonly key: string
  readonly answer: 'agreed' | 'waved off'
  /** How large it was when it was waved off: once it has doubled it is heard of again. */
  readonly size: number | null
  /** Why it was waved off. */
  readonly note: string | null
  readonly at: string
  /** The take's faults that it became. */
  readonly faultIds: readonly Id<'take_fault'>[]
}

/** The report of a take that was kept last; undefined where its frames were never read. */
export function keptCheck(db: Db, takeId: Id<'take'>): KeptCheck | undefined {
  const row = prepared<[number], Omit<KeptCheck, 'report' | 'folders'> & { report: string; folders: string }>(
    db,
    `SELECT folders, frames_read AS framesRead, checked_at AS checkedAt, report FROM take_check WHERE take_id = ?`,
  ).get(takeId)
  return (
    row && {
      ...row,
      folders: JSON.parse(row.folders) as string[],
      report: JSON.parse(row.report) as TakeReport,
    }
  )
}

/**
 * Keeps a report in place of the one before. It is no event: it is worked out from the frames, and can be again.
 * @param check.report  the report as JSON, as the thread that made it wrote it
 */
export function keepCheck(
  { db, now }: Pick<Writing, 'db' | 'now'>,
  takeId: Id<'take'>,
  check: { readonly folders: readonly string[]; readonly framesRead: number; readonly report: string },
): void {
  prepared<unknown[]>(
    db,
    `INSERT INTO take_check (take_id, folders, frames_read, report, checked_at) VALUES (?, ?, ?, ?, ?)
     ON CONFLICT (take_id) DO UPDATE SET folders = excluded.folders, frames_read = excluded.frames_read,
       report = excluded.report, checked_at = excluded.checked_at`,
  ).run(takeId, JSON.stringify(check.folders), check.framesRead, check.report, now)
}

/**
 * Where the frames of a take lie, as far as anybody has said: where the take itself knows, and what was named for its
 * check besides; else where it was checked before. None where nobody has said.
 */
export function checkFolders(db: Db, takeId: Id<'take'>, ofTake: readonly string[]): readonly string[] {
  const row = prepared<[number], { folders: string }>(
    db,
    'SELECT folders FROM take_check WHERE take_id = ?',
  ).get(takeId)
  const checked = row ? (JSON.parse(row.folders) as string[]) : []
  return ofTake.every((folder, at) => checked[at] === folder) ? checked : ofTake
}

/**
 * How many frames the kept report rests on; 0 where none is kept.
 * @param folders  where it must have been read in their order; null for wherever it was
 */
export function framesOfKeptCheck(
  db: Db,
  takeId: Id<'take'>,
  folders: readonly string[] | null = null,
): number {
  const row = prepared<{ takeId: number; folders: string | null }[], { read: number }>(
    db,
    `SELECT frames_read AS read FROM take_check WHERE take_id = :takeId AND folders = ifnull(:folders, folders)`,
  ).get({ takeId, folders: folders && JSON.stringify(folders) })
  return row?.read ?? 0
}

/** What was said of the findings of a take. A finding that is not found any more keeps its answer. */
export function findingAnswers(db: Db, takeId: Id<'take'>): readonly FindingAnswer[] {
  const agreed = prepared<[number], { key: string; at: string; ids: string }>(
    db,
    `SELECT finding_key AS key, min(at) AS at, json_group_array(id ORDER BY id) AS ids FROM take_fault
     WHERE take_id = ? AND finding_key IS NOT NULL GROUP BY finding_key ORDER BY min(id)`,
  ).all(takeId)
  const off = prepared<[number], { key: string; size: number | null; note: string | null; at: string }>(
    db,
    `SELECT finding_key AS key, size, note, at FROM take_finding_off WHERE take_id = ? ORDER BY at, finding_key`,
  ).all(takeId)
  return [
    ...agreed.map(({ key, at, ids }) => ({
      key,
      answer: 'agreed' as const,
      size: null,
      note: null,
      at,
      faultIds: JSON.parse(ids) as Id<'take_fault'>[],
    })),
    ...off.map((one) => ({ ...one, answer: 'waved off' as const, faultIds: [] })),
  ]
}

/**
 * A person agrees to a finding: it becomes the take's fault, with its sentence, at the frames it is about. One that
 * was agreed to already changes nothing; one that was waved off is agreed to all the same.
 * Refuses a finding that is no fault.
 */
export function agreeToFinding(
  writing: Writing,
  takeId: Id<'take'>,
  finding: Finding,
  note: string | null,
): readonly Id<'take_fault'>[] {
  return inOneTransaction(writing.db, () => {
    const before = faultsWithKey(writing.db, takeId, finding.key)
    if (before.length > 0) return before
    const faults = faultsOfFinding(finding, note)
    forgetWaveOff(writing.db, takeId, finding.key)
    return faults.map((fault) => addFault(writing, takeId, { ...fault, findingKey: finding.key }))
  })
}

/** A person waves a finding off: it is heard of no more until it has doubled, and is none of the take's faults. */
export function waveOffFinding(
  writing: Writing,
  takeId: Id<'take'>,
  finding: Finding,
  note: string | null,
): void {
  inOneTransaction(writing.db, () => {
    for (const id of faultsWithKey(writing.db, takeId, finding.key)) removeFault(writing, id)
    const { changes } = prepared<unknown[]>(
      writing.db,
      `INSERT INTO take_finding_off (take_id, finding_key, size, note, at) VALUES (?, ?, ?, ?, ?)
       ON CONFLICT (take_id, finding_key) DO UPDATE SET note = excluded.note, size = excluded.size
       WHERE note IS NOT excluded.note OR excluded.size > size`,
    ).run(takeId, finding.key, finding.size ?? null, note, writing.now)
    if (changes === 0) return
    const { sentence } = finding
    tellOfTake(writing, takeId, jobOfTake(writing.db, takeId), 'finding waved off', { sentence, note })
  })
}

/** Takes back what was said of a finding: its faults are the take's no more, and it waits for an answer again. */
export function undoFindingAnswer(writing: Writing, takeId: Id<'take'>, key: string): void {
  inOneTransaction(writing.db, () => {
    for (const id of faultsWithKey(writing.db, takeId, key)) removeFault(writing, id)
    if (forgetWaveOff(writing.db, takeId, key)) {
      tellOfTake(writing, takeId, jobOfTake(writing.db, takeId), 'finding open again', { key })
    }
  })
}

/** A finding of a report by its key. Refuses one that is not in it. */
export function findingOf(report: TakeReport | undefined, key: string): Finding {
  const finding = report?.findings.find((one) => one.key === key)
  if (finding) return finding
  throw new Refusal(
    'no-finding',
    'The check does not find this any more. Look at the take’s report as it is now.',
  )
}

function faultsWithKey(db: Db, takeId: Id<'take'>, key: string): Id<'take_fault'>[] {
  return prepared<[number, string], { id: Id<'take_fault'> }>(
    db,
    'SELECT id FROM take_fault WHERE take_id = ? AND finding_key = ? ORDER BY id',
  )
    .all(takeId, key)
    .map(({ id }) => id)
}

function forgetWaveOff(db: Db, takeId: Id<'take'>, key: string): boolean {
  return (
    prepared<[number, string]>(db, 'DELETE FROM take_finding_off WHERE take_id = ? AND finding_key = ?').run(
      takeId,
      key,
    ).changes > 0
  )
}
