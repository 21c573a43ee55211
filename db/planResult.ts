import { dayOf, daysBetween, minutesOfDay } from '../main/trade/calendar.ts'
import type { PlanBlock } from '../main/trade/plan/blocks.ts'
import type { Plan } from '../main/trade/plan/solve.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { type BlockHands, blocksWithHands } from './planHands.ts'
import type { SpinToPlan } from './planItems.ts'
import type { PlanQuestion } from './planProblem.ts'
import type { PlannedBlock } from './rebooking.ts'
import { rigNameOf } from './standingRig.ts'

/** A block of a plan with what a person needs to judge it. */
export interface ShownBlock extends PlannedBlock {
  readonly bench: string
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly client: string
  readonly rig: string | null
  /** What stands on its bench before; null for an empty bench. */
  readonly rigBefore: string | null
  /** The day its job is due, and calendar days that it ends after that. */
  readonly dueDay: string | null
  readonly daysLate: number
}

/** A spin that would end after its job is due. */
export interface LateSpin {
  readonly shootId: Id<'shoot'>
  readonly name: string
  readonly jobNumber: string
  readonly client: string
  readonly dueDay: string
  readonly endDay: string
}

/** The blocks of a plan by the studio's clock, in the order of time. */
export function shownBlocks(db: Db, question: PlanQuestion, plan: Plan): readonly ShownBlock[] {
  const spins = new Map(question.spins.map((spin) => [spin.shootId as number, spin]))
  const groupOf = (id: number) => {
    const spin = spins.get(id)
    return `${spin?.jobId ?? ''} ${spin?.rigRevisionId ?? ''} ${blockOf(id) ?? ''}`
  }
  // What keeps its place stays in the block it is in.
  const blockOf = (id: number) => question.blockNow.get(id as Id<'shoot'>)
  const staysWith = (before: number, id: number) =>
    blockOf(id) !== undefined && blockOf(before) === blockOf(id)
  const rigBefore = new Map(plan.placed.map((place) => [place.id, place.rigBefore]))
  const nameOf = rigNames(db)
  const { data, baseMs, benches } = question
  const blocks = blocksWithHands(db, question.hands, {
    placed: plan.placed,
    groupOf,
    staysWith,
    baseMs,
    turningCapMin: data.turningCapMin,
    benches: benches.length,
  })
  return blocks.flatMap(({ block, hands }) => {
    const [id = 0] = block.ids
    const spin = spins.get(id)
    if (!spin) return []
    const stood = question.rigs[rigBefore.get(id) ?? -1]
    return [
      {
        ...shownBlock(db, question, block, spin, hands),
        rig: nameOf(spin.rigRevisionId),
        rigBefore: nameOf(stood?.rigRevisionId ?? null),
      },
    ]
  })
}

/** Names of rigs, each read once however many blocks stand on it. */
function rigNames(db: Db): (rigRevisionId: Id<'rig_revision'> | null) => string | null {
  const known = new Map<Id<'rig_revision'> | null, string | null>()
  return (rigRevisionId) => {
    const name = known.get(rigRevisionId) ?? rigNameOf(db, rigRevisionId)
    known.set(rigRevisionId, name)
    return name
  }
}

function shownBlock(
  db: Db,
  { benches, baseMs }: PlanQuestion,
  block: PlanBlock,
  spin: SpinToPlan,
  { personIds, changePersonIds }: BlockHands,
): Omit<ShownBlock, 'rig' | 'rigBefore'> {
  const bench = benches[block.bench]
  if (!bench) throw new Error(`The plan speaks of bench ${block.bench} of ${benches.length}.`)
  const zone = studioZone(db)
  const clockOf = ({ fromMin, toMin }: { fromMin: number; toMin: number }) => {
    const starts = new Date(baseMs + fromMin * 60_000)
    const ends = new Date(baseMs + toMin * 60_000)
    const day = dayOf(starts, zone)
    return {
      day,
      fromMinute: minutesOfDay(starts, zone),
      // A block that ends at midnight ends its own day.
      toMinute: dayOf(ends, zone) === day ? minutesOfDay(ends, zone) : 1440,
    }
  }
  const when = clockOf(block)
  return {
    ...when,
    benchId: bench.id,
    bench: bench.name,
    kind: 'spins',
    shootIds: block.ids as readonly Id<'shoot'>[],
    title: null,
    setChangeMinutes: block.setChangeMin,
    changeApart: block.changeApart ? { ...clockOf(block.changeApart), personIds: changePersonIds } : null,
    personIds,
    isFixed: false,
    overruledReason: null,
    jobId: spin.jobId,
    jobNumber: spin.jobNumber,
    client: spin.client,
    dueDay: spin.dueDay,
    daysLate: spin.dueDay === null ? 0 : Math.max(0, daysBetween(spin.dueDay, when.day)),
  }
}

/** Refuses blocks that nobody is found for: somebody would be at two benches at once, or past the day's cap. */
export function refuseUnshared(blocks: readonly ShownBlock[]): void {
  const without = blocks.flatMap(({ day, personIds, changeApart }) => [
    ...(personIds.length === 0 ? [day] : []),
    ...(changeApart?.personIds.length === 0 ? [changeApart.day] : []),
  ])
  const [day] = without.toSorted()
  if (day === undefined) return
  throw new Refusal(
    'no-hands-left',
    `The work of ${day} cannot be shared among the people chosen: somebody would be at two benches at once, or turn longer than the studio sets as the most. Choose more people or fewer benches, and plan again.`,
    { field: 'personIds' },
  )
}

/** The spins that a plan ends after their due day, the latest first. */
export function lateSpins(db: Db, { spins, baseMs }: PlanQuestion, plan: Plan): readonly LateSpin[] {
  const zone = studioZone(db)
  const byId = new Map(spins.map((spin) => [spin.shootId as number, spin]))
  return plan.placed
    .filter(({ latenessMin }) => latenessMin > 0)
    .sort((a, b) => b.latenessMin - a.latenessMin)
    .flatMap(({ id, endMin }) => {
      const spin = byId.get(id)
      if (!spin || spin.dueDay === null) return []
      const { shootId, name, jobNumber, client, dueDay } = spin
      return [
        { shootId, name, jobNumber, client, dueDay, endDay: dayOf(new Date(baseMs + endMin * 60_000), zone) },
      ]
    })
}
