import type { FreeWindow, PlanItem, PlanProblem } from '../../main/trade/plan/problem.ts'

/** A machine that is always open, as the textbooks have it. */
export const alwaysOpen: readonly FreeWindow[] = [{ fromMin: 0, toMin: 1_000_000, day: 0 }]

/** An item that names only what a test is about: ready at 0, never due, of one rig, on every bench. */
export function anItem(
  id: number,
  minutes: number,
  rest: Partial<PlanItem> & { readonly benches?: number } = {},
): PlanItem {
  const { benches = 1, ...given } = rest
  return {
    id,
    partsMin: Array.from({ length: benches }, () => [minutes]),
    earliestMin: 0,
    dueMin: null,
    weight: 1,
    rig: 0,
    ...given,
  }
}

/** One open bench, one pair of hands and no set changes, unless said otherwise. */
export function aProblem(items: readonly PlanItem[], rest: Partial<PlanProblem> = {}): PlanProblem {
  return {
    items,
    benches: [{ windows: alwaysOpen, rig: null }],
    hands: 1,
    changeoverMin: () => 0,
    turningCapMin: null,
    ...rest,
  }
}
