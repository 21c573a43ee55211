import fc from 'fast-check'
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

const rigs = 4

const minutes = (most: number) => fc.integer({ min: 0, max: most })

function itemsUpTo(most: number, benches: number): fc.Arbitrary<readonly PlanItem[]> {
  return fc
    .array(
      fc.record({
        parts: fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 2 }),
        earliestMin: minutes(400),
        dueMin: fc.option(minutes(900)),
        weight: fc.integer({ min: 0, max: 5 }),
        rig: fc.integer({ min: 0, max: rigs - 1 }),
        bench: fc.integer({ min: 0, max: benches }),
        isAfterFirst: fc.boolean(),
        needs: fc.constantFrom<readonly number[]>([], [], [7]),
      }),
      { minLength: 1, maxLength: most },
    )
    .map((drawn) =>
      drawn.map(({ parts, bench, isAfterFirst, ...rest }, index) => ({
        id: index + 1,
        ...rest,
        // One number more than there are benches: any bench will do.
        partsMin: Array.from({ length: benches }, (_, at) =>
          bench === benches || bench === at ? parts : null,
        ),
        ...(isAfterFirst && index > 0 ? { after: 1 } : {}),
      })),
    )
}

/** Days of 300 minutes with a break, apart by nights; now and then a fixed block leaves another rig. */
const windows: fc.Arbitrary<readonly FreeWindow[]> = fc
  .array(fc.option(fc.record({ rig: fc.integer({ min: 0, max: rigs - 1 }) }), { freq: 3 }), {
    minLength: 40,
    maxLength: 40,
  })
  .map((fixed) =>
    fixed.map((block, index) => {
      const day = Math.floor(index / 2)
      const fromMin = day * 1440 + (index % 2) * 160
      const next = fixed[index + 1]
      return {
        fromMin,
        toMin: fromMin + 140,
        day,
        ...(block ? { rigBefore: block.rig } : {}),
        ...(next ? { rigAfter: next.rig } : {}),
      }
    }),
  )

/** Random problems of up to so many items on so many benches. */
export function problems(most: number, benches: number): fc.Arbitrary<PlanProblem> {
  return fc
    .record({
      items: itemsUpTo(most, benches),
      windows: fc.array(windows, { minLength: benches, maxLength: benches }),
      changes: fc.array(minutes(30), { minLength: rigs * (rigs + 1), maxLength: rigs * (rigs + 1) }),
      hands: fc.integer({ min: 1, max: 2 }),
      turningCapMin: fc.option(fc.integer({ min: 120, max: 260 })),
    })
    .map(({ items, windows, changes, hands, turningCapMin }) => ({
      items,
      benches: windows.map((one) => ({ windows: one, rig: null })),
      hands,
      turningCapMin,
      changeoverMin: (from, to) =>
        from === to ? 0 : (changes[((from ?? rigs - 0) % (rigs + 1)) * rigs + to] ?? 0),
    }))
}

/** All orders of so many things. */
export function everyOrder(count: number): readonly (readonly number[])[] {
  if (count === 0) return [[]]
  return everyOrder(count - 1).flatMap((order) =>
    Array.from({ length: count }, (_, at) => [...order.slice(0, at), count - 1, ...order.slice(at)]),
  )
}
