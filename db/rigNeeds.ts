import { mostTakenAtOnce, type OutDays, piecesOut, type Taking } from '../main/trade/outage.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** A block that has a rig, as far as it holds equipment. */
export interface RigBlock {
  readonly id: Id<'booking'>
  readonly benchId: Id<'bench'>
  readonly kind: 'spins' | 'set change' | 'other'
  readonly startsAt: string
  readonly endsAt: string
  readonly rigRevisionId: Id<'rig_revision'>
  readonly platterId: Id<'platter'>
}

/** What rigs take, what the studio has of it, what of that is away, and which blocks hold it. */
export interface RigNeeds {
  readonly byRevision: ReadonlyMap<
    Id<'rig_revision'>,
    readonly { readonly equipmentId: Id<'equipment'>; readonly needed: number }[]
  >
  readonly equipment: ReadonlyMap<Id<'equipment'>, { readonly name: string; readonly count: number }>
  readonly outages: ReadonlyMap<Id<'equipment'>, readonly OutDays[]>
  readonly blocks: readonly RigBlock[]
}

/** When and where a rig is to stand: a block's own time on its bench, or only a day. */
export interface RigTime {
  readonly day: string
  readonly block: Pick<RigBlock, 'id' | 'benchId' | 'startsAt' | 'endsAt'> | null
}

/**
 * Reads all of it once, with the blocks between two instants.
 * @param extra  an outage that is not noted, only asked about
 */
export function rigNeeds(
  db: Db,
  from: string,
  to: string,
  extra: (OutDays & { readonly equipmentId: Id<'equipment'> }) | null,
): RigNeeds {
  type Need = { rigRevisionId: Id<'rig_revision'>; equipmentId: Id<'equipment'>; needed: number }
  const needs = prepared<[], Need>(
    db,
    'SELECT rig_revision_id AS rigRevisionId, equipment_id AS equipmentId, needed FROM rig_equipment',
  ).all()
  const equipment = prepared<[], { id: Id<'equipment'>; name: string; count: number }>(
    db,
    'SELECT id, name, CASE WHEN gone_at IS NULL THEN count ELSE 0 END AS count FROM equipment',
  ).all()
  const outages = prepared<[string], OutDays & { equipmentId: Id<'equipment'> }>(
    db,
    `SELECT equipment_id AS equipmentId, from_day AS fromDay, to_day AS toDay FROM equipment_outage
     WHERE ifnull(to_day, '9999') >= ?`,
  ).all(from.slice(0, 10))
  return {
    byRevision: grouped(needs, ({ rigRevisionId }) => rigRevisionId),
    equipment: new Map(equipment.map(({ id, ...thing }) => [id, thing])),
    outages: grouped(extra ? [...outages, extra] : outages, ({ equipmentId }) => equipmentId),
    blocks: blocksBetween(db, from, to),
  }
}

function blocksBetween(db: Db, from: string, to: string): readonly RigBlock[] {
  // A block lies within one local day, so nothing that began two days before can still run.
  const earliest = new Date(Date.parse(from) - 2 * 86_400_000).toISOString()
  return prepared<[string, string, string], RigBlock>(
    db,
    `SELECT b.id, b.bench_id AS benchId, b.kind, b.starts_at AS startsAt, b.ends_at AS endsAt,
       b.rig_revision_id AS rigRevisionId, v.platter_id AS platterId
     FROM booking b JOIN rig_revision v ON v.id = b.rig_revision_id
     WHERE b.cancelled_at IS NULL AND b.starts_at > ? AND b.starts_at < ? AND b.ends_at > ? ORDER BY b.starts_at`,
  ).all(earliest, to, from)
}

/** What a rig lacks at a time, by name: too few pieces are here, or other benches hold them. Null where it lacks nothing. */
export function lackingAt(
  needs: RigNeeds,
  rigRevisionId: Id<'rig_revision'>,
  time: RigTime,
  only?: Id<'equipment'>,
): string | null {
  for (const { equipmentId, needed } of needs.byRevision.get(rigRevisionId) ?? []) {
    if (only !== undefined && equipmentId !== only) continue
    const thing = needs.equipment.get(equipmentId)
    if (!thing) continue
    const out = piecesOut(needs.outages.get(equipmentId) ?? [], time.day)
    if (thing.count - out - takenElsewhere(needs, equipmentId, time) < needed) return thing.name
  }
  return null
}

function takenElsewhere(needs: RigNeeds, equipmentId: Id<'equipment'>, { block }: RigTime): number {
  if (block === null) return 0
  const others = needs.blocks.flatMap(({ benchId, rigRevisionId, startsAt, endsAt }): readonly Taking[] => {
    if (benchId === block.benchId) return []
    const need = needs.byRevision.get(rigRevisionId)?.find((one) => one.equipmentId === equipmentId)
    return need ? [{ startsAt, endsAt, needed: need.needed }] : []
  })
  return mostTakenAtOnce(block, others)
}

/** True where a platter stands on another bench at the time of a block. */
export function isPlatterElsewhere(
  { blocks }: RigNeeds,
  platterId: Id<'platter'>,
  { block }: RigTime,
): boolean {
  return (
    block !== null &&
    blocks.some(
      (other) =>
        other.platterId === platterId &&
        other.benchId !== block.benchId &&
        other.startsAt < block.endsAt &&
        other.endsAt > block.startsAt,
    )
  )
}
