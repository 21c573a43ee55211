import type { Answers, Asks } from '../../main/api/types.ts'
import { nextViewAngleMdeg } from '../../main/trade/turn/rows.ts'

type SentBrief = Asks['clients']['add']['brief']
type KeptBrief = Answers['clients']['one']['brief']

/** A number in a form may be empty for a while. */
type WhileTyped<T> = { readonly [K in keyof T]: T[K] extends number ? number | null : T[K] }

/** Tells one row of a form from another while rows are added and taken away; never sent. */
interface Keyed {
  readonly key: string
}

export type RowValue = WhileTyped<SentBrief['rows'][number]> & Keyed
export type DeliverableValue = WhileTyped<Omit<SentBrief['deliverables'][number], 'id'>> &
  Keyed & { readonly id?: number | undefined }

/** A brief while it is being written. */
export type BriefValue = Omit<SentBrief, 'rows' | 'deliverables'> & {
  readonly rows: readonly RowValue[]
  readonly deliverables: readonly DeliverableValue[]
}

let lastKey = 0

/** A key no other row of any form has. */
export function freshKey(): string {
  lastKey += 1
  return `row-${lastKey}`
}

/** A further row starts from the one before it, some degrees higher; so many are to come, this one among them. */
export function nextRow(rows: readonly RowValue[], rowsToCome = 1): RowValue {
  const last = rows.at(-1)
  return {
    viewAngleMdeg: last ? nextViewAngleMdeg(last.viewAngleMdeg ?? 0, rowsToCome) : 0,
    framesPerTurn: last?.framesPerTurn ?? null,
    overlapFrames: last?.overlapFrames ?? 0,
    key: freshKey(),
  }
}

/** A kept brief, or the plain one, as a form writes on it. */
export function briefValueOf(
  brief: Omit<KeptBrief, 'id' | 'deliverables'> & {
    readonly deliverables: readonly (Omit<KeptBrief['deliverables'][number], 'id'> & {
      readonly id?: number | undefined
    })[]
  },
): BriefValue {
  const { whiteCode, fillPpm, direction, startPose, namePattern, finishClassId, yesDays, note } = brief
  return {
    whiteCode,
    fillPpm,
    direction,
    startPose,
    namePattern,
    finishClassId,
    yesDays,
    note,
    rows: brief.rows.map((row) => ({ ...row, key: freshKey() })),
    deliverables: brief.deliverables.map((deliverable) => ({ ...deliverable, key: freshKey() })),
  }
}

/** The form's brief as it is sent. A figure left empty goes out empty, and the studio says which one is missing. */
export function sentBrief(value: BriefValue): SentBrief {
  return {
    ...value,
    rows: value.rows.map(({ key: _, ...row }) => row),
    deliverables: value.deliverables.map(({ key: _, ...deliverable }) => deliverable),
  } as SentBrief
}
