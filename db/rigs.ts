import type { SizeClass } from '../main/trade/product.ts'
import { median } from '../main/trade/quantile.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import type { Page } from './page.ts'
import {
  currentRevision,
  insertRevision,
  type RigRevision,
  type RigRevisionDraft,
  standsAlike,
} from './rigRevisions.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

export interface Rig {
  readonly id: Id<'rig'>
  readonly name: string
  readonly sizeClass: SizeClass
  readonly note: string | null
  readonly archivedAt: string | null
  readonly createdAt: string
}

export type RigDraft = Pick<Rig, 'name' | 'sizeClass' | 'note'>

/** What a client's yes says for a rig: only answered spins count, not our own picks. */
export interface RigEvidence {
  /** Spins with the client's yes on a deliverable picked from a take on it. */
  readonly spinsApproved: number
  /** Median of the median steps of the approved takes, in ms; of the last 200. Null before the first. */
  readonly medianStepMs: number | null
  /** When its last take was started. */
  readonly lastUsedAt: string | null
}

export type RigLine = Rig & RigEvidence & { readonly current: RigRevision }

const rigColumns = `rig.id, rig.name, rig.size_class AS sizeClass, rig.note, rig.archived_at AS archivedAt,
  rig.created_at AS createdAt`

export function findRig(db: Db, rigId: Id<'rig'>): Rig | undefined {
  return prepared<[number], Rig>(db, `SELECT ${rigColumns} FROM rig WHERE id = ?`).get(rigId)
}

const rigOrders = {
  name: 'rig.name COLLATE NOCASE',
  sizeClass: `CASE rig.size_class WHEN 'small' THEN 1 WHEN 'medium' THEN 2 ELSE 3 END, rig.name COLLATE NOCASE`,
  newest: 'rig.created_at DESC, rig.id DESC',
} as const
export type RigOrder = keyof typeof rigOrders

/** A page of the rigs in use (or archived) with their newest revision and what was approved on each. */
export function listRigs(
  db: Db,
  order: RigOrder,
  archived: boolean,
  page: Page,
): { readonly lines: readonly RigLine[]; readonly total: number } {
  const rigs = prepared<[number, number, number], Rig>(
    db,
    `SELECT ${rigColumns} FROM rig WHERE (archived_at IS NOT NULL) = ? ORDER BY ${rigOrders[order]} LIMIT ? OFFSET ?`,
  ).all(archived ? 1 : 0, page.limit, page.offset)
  const total = prepared<[number], { n: number }>(
    db,
    'SELECT count(*) AS n FROM rig WHERE (archived_at IS NOT NULL) = ?',
  ).get(archived ? 1 : 0)
  return {
    lines: rigs.map((rig) => ({ ...rig, ...evidenceOf(db, rig.id), current: currentRevision(db, rig.id) })),
    total: total?.n ?? 0,
  }
}

/** Every rig in use with its newest revision's id, for a choice. */
export function rigChoices(db: Db): readonly {
  readonly rigId: Id<'rig'>
  readonly name: string
  readonly sizeClass: SizeClass
  readonly rigRevisionId: Id<'rig_revision'>
  readonly revision: number
}[] {
  return prepared<
    [],
    {
      rigId: Id<'rig'>
      name: string
      sizeClass: SizeClass
      rigRevisionId: Id<'rig_revision'>
      revision: number
    }
  >(
    db,
    `SELECT rig.id AS rigId, rig.name, rig.size_class AS sizeClass, v.id AS rigRevisionId, v.revision
     FROM rig JOIN rig_revision v ON v.rig_id = rig.id
       AND v.revision = (SELECT max(revision) FROM rig_revision WHERE rig_id = rig.id)
     WHERE rig.archived_at IS NULL ORDER BY rig.name COLLATE NOCASE`,
  ).all()
}

/** How many newest approved spins a rig's usual step is taken from. */
const stepsLookedAt = 50

/** What a client's yes says for a rig in three figures. */
export function evidenceOf(db: Db, rigId: Id<'rig'>): RigEvidence {
  const spins = prepared<[number], { n: number }>(
    db,
    'SELECT ifnull(sum(approved), 0) AS n FROM rig_evidence WHERE rig_id = ?',
  ).get(rigId)
  const steps = prepared<[number, number], { stepMs: number }>(
    db,
    `SELECT take.median_step_ms AS stepMs FROM rig_approval r JOIN take ON take.id = r.take_id
     WHERE r.rig_id = ? AND take.median_step_ms IS NOT NULL ORDER BY r.answered_at DESC LIMIT ?`,
  ).all(rigId, stepsLookedAt)
  const last = prepared<[number], { at: string | null }>(
    db,
    `SELECT max((SELECT max(started_at) FROM take WHERE rig_revision_id = v.id)) AS at
     FROM rig_revision v WHERE v.rig_id = ?`,
  ).get(rigId)
  return {
    spinsApproved: spins?.n ?? 0,
    medianStepMs: steps.length > 0 ? Math.round(median(steps.map(({ stepMs }) => stepMs))) : null,
    lastUsedAt: last?.at ?? null,
  }
}

/** Adds a rig with its first revision: both or neither. */
export function addRig(
  writing: Writing,
  rig: RigDraft,
  revision: RigRevisionDraft,
): { readonly rigId: Id<'rig'>; readonly rigRevisionId: Id<'rig_revision'> } {
  const { db } = writing
  return inOneTransaction(db, () => {
    const rigId = newId<Id<'rig'>>(
      prepared<unknown[]>(db, 'INSERT INTO rig (name, size_class, note, created_at) VALUES (?, ?, ?, ?)').run(
        rig.name,
        rig.sizeClass,
        rig.note,
        writing.now,
      ),
    )
    const rigRevisionId = insertRevision(writing, rigId, 1, revision)
    writeEvent(writing, { subject: 'rig', subjectId: rigId, what: 'rig added', detail: { name: rig.name } })
    return { rigId, rigRevisionId }
  })
}

/**
 * Writes down what stands now as the rig's next revision; the earlier ones stay as they were, with the takes shot on
 * them. Refuses one that stands in all as the last: another focus or frame count is new settings, not a new rig.
 * @param rig  what the rig is called from now on: kept with the revision, or not at all
 */
export function reviseRig(
  writing: Writing,
  rigId: Id<'rig'>,
  draft: RigRevisionDraft,
  rig?: RigDraft,
): { readonly rigRevisionId: Id<'rig_revision'>; readonly revision: number } {
  const { db } = writing
  return inOneTransaction(db, () => {
    if (!findRig(db, rigId)) throw new Refusal('no-rig', 'This rig is not in the studio.')
    if (rig) changeRig(writing, rigId, rig)
    const before = currentRevision(db, rigId)
    const revision = before.revision + 1
    const rigRevisionId = insertRevision(writing, rigId, revision, draft)
    if (standsAlike(before, currentRevision(db, rigId))) {
      throw new Refusal(
        'rig-unchanged',
        `Nothing that stands differs from revision ${before.revision}. Change what was changed, or, where it was focus, aperture or frames, write new settings on the page of the rig.`,
      )
    }
    writeEvent(writing, {
      subject: 'rig',
      subjectId: rigId,
      what: 'rig revised',
      detail: { revision, why: draft.why },
    })
    return { rigRevisionId, revision }
  })
}

/** Changes what a rig is called; what stands is changed by a revision. */
export function changeRig(writing: Writing, rigId: Id<'rig'>, draft: RigDraft): void {
  inOneTransaction(writing.db, () => {
    const before = findRig(writing.db, rigId)
    prepared<unknown[]>(writing.db, 'UPDATE rig SET name = ?, size_class = ?, note = ? WHERE id = ?').run(
      draft.name,
      draft.sizeClass,
      draft.note,
      rigId,
    )
    writeEvent(writing, {
      subject: 'rig',
      subjectId: rigId,
      what: 'rig changed',
      detail: { before, after: draft },
    })
  })
}

/** Takes a rig out of the choice or brings it back; takes and plans keep pointing at its revisions. */
export function archiveRig(writing: Writing, rigId: Id<'rig'>, archived: boolean): void {
  inOneTransaction(writing.db, () => {
    prepared<[string | null, number]>(writing.db, 'UPDATE rig SET archived_at = ? WHERE id = ?').run(
      archived ? writing.now : null,
      rigId,
    )
    writeEvent(writing, {
      subject: 'rig',
      subjectId: rigId,
      what: archived ? 'rig archived' : 'rig brought back',
    })
  })
}
