import fc from 'fast-check'
import type { BenchAct } from '../../main/trade/benchActs.ts'
import { faultKinds } from '../../main/trade/takes.ts'

const frame = fc.integer({ min: 1, max: 20 })

/** Acts as they come at a bench, mostly frames; some of them against the rules. */
export const anAct: fc.Arbitrary<BenchAct> = fc.oneof(
  { weight: 8, arbitrary: fc.constant<BenchAct>({ kind: 'frame' }) },
  fc.record({ kind: fc.constant('frame' as const), mark: fc.nat(12) }),
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('void' as const), frame }) },
  fc.record({ kind: fc.constant('restore' as const), frame }),
  fc.record({ kind: fc.constant('back' as const), mark: fc.nat(12) }),
  fc.record({
    kind: fc.constant('pause' as const),
    reason: fc.constantFrom(null, 'lunch'),
  }),
  fc.constant<BenchAct>({ kind: 'resume' }),
  fc.record({
    kind: fc.constant('fault' as const),
    fault: fc.constantFrom(...faultKinds),
    frame: fc.option(frame),
    note: fc.constantFrom(null, 'at the back'),
    isVoid: fc.boolean(),
  }),
  fc.record({ kind: fc.constant('note' as const), note: fc.constantFrom(null, 'left head is warm') }),
)
