import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import type { PlanProposal } from '../../db/planDays.ts'
import type { PlanQuestion } from '../../db/planProblem.ts'
import { lateSpins, shownBlocks } from '../../db/planResult.ts'
import { planTold } from '../../db/planTold.ts'
import type { MovableBlock } from '../../db/planWaiting.ts'
import type { PlanFound, PlanRun } from '../work/planRun.ts'
import type { PlanAsk } from './plans.ts'

/** A plan as it was asked for. */
export interface AskedPlan {
  readonly ask: PlanAsk
  readonly question: PlanQuestion
  readonly replanned: readonly MovableBlock[]
  /** Spins that wait but are not in the plan: due later, or held up. */
  readonly otherSpins: number
  readonly askedAt: string
  readonly run: PlanRun
}

/** Blocks to be planned anew with the set changes that make way for them. */
export function liftedBy(blocks: readonly MovableBlock[]): readonly Id<'booking'>[] {
  return blocks.flatMap(({ id, setChangeId }) => (setChangeId === null ? [id] : [id, setChangeId]))
}

/** A plan is worked out once, and told to every window that looks: its names and times are those of when it was found. */
const proposals = new WeakMap<PlanFound, PlanProposal>()
const said = new WeakMap<PlanFound, Said>()
type Said = ReturnType<typeof worded>

/** The blocks that a plan proposes, and what they take off the bench. */
export function proposalOf(db: Db, { question, replanned }: AskedPlan, found: PlanFound): PlanProposal {
  const known = proposals.get(found)
  if (known) return known
  const proposal = {
    question,
    blocks: shownBlocks(db, question, found.plan),
    lifted: liftedBy(replanned),
  }
  proposals.set(found, proposal)
  return proposal
}

/** All that a plan says of itself. */
export function saidOf(db: Db, asked: AskedPlan, found: PlanFound): Said {
  const known = said.get(found) ?? worded(db, asked, found)
  said.set(found, known)
  return known
}

function worded(db: Db, asked: AskedPlan, found: PlanFound) {
  const { question, replanned, otherSpins, askedAt } = asked
  const { plan } = found
  const names = new Map(question.spins.map(({ shootId, name }) => [shootId as number, name]))
  const nameOf = (id: number) => names.get(id) ?? ''
  return {
    askedAt,
    blocks: proposalOf(db, asked, found).blocks,
    late: lateSpins(db, question, plan),
    unplaced: plan.unplaced.map(nameOf),
    tooLong: plan.impossible.map(nameOf),
    leftOut: question.leftOut,
    outages: question.outages,
    atRisk: question.atRisk,
    otherSpins,
    replanned: replanned.length,
    isProved: plan.isProved,
    ...planTold(db, question, found),
    proposed: found.proposed,
    today: found.today,
    gap: found.gap,
    cost: plan.cost,
    bound: plan.bound,
    byDueDay: found.byDueDay,
    byNearestRig: found.byNearestRig,
  }
}
