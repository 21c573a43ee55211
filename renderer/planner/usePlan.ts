import { useEffect, useMemo, useRef, useState } from 'react'
import { useSearchParams } from 'react-router'
import type { PlannerBasis } from './costView.ts'
import { type Plan, type WorkedPlan, workOutPlan } from './plan.ts'
import type { PlannerHand } from './plannerFields.tsx'
import { type PlannerStart, plannerBasis, startingTyped } from './prefill.ts'
import type { Refusals } from './reading.ts'
import { addressOfTyped, keys, type Typed, typedOfAddress } from './typed.ts'

/** How long typing must rest before a refusal is shown and the address follows. */
const settleMs = 500

/** The planner's state: what is typed, kept in the address, and the plan that follows from it. */
export function usePlan(start: PlannerStart): {
  readonly hand: PlannerHand
  readonly worked: WorkedPlan
  readonly studio: PlannerBasis
} {
  const [params, setParams] = useSearchParams()
  // The fields keep what they started with: the studio's later answers never overwrite what is typed.
  const [started] = useState(() => startingTyped(start))
  const [typed, setTyped] = useState(() => typedOfAddress(params, started))
  const last = useRef<Plan>(undefined)
  const studio = useMemo(() => plannerBasis(start), [start])
  const worked = useMemo(() => workOutPlan(typed, studio, last.current), [typed, studio])
  last.current = worked.plan
  useAddress(typed, started, params, setParams, setTyped)
  const refusals = useSettled(worked.refusals)
  return {
    worked,
    studio,
    hand: useMemo(
      () => ({
        typed,
        refusals,
        patch: (values) => setTyped((before) => ({ ...before, ...values })),
      }),
      [typed, refusals],
    ),
  }
}

/** The address follows what is typed once it rests; going back, or a link, sets the fields. */
function useAddress(
  typed: Typed,
  started: Typed,
  params: URLSearchParams,
  setParams: ReturnType<typeof useSearchParams>[1],
  setTyped: (typed: Typed) => void,
): void {
  const address = params.toString()
  const written = useRef(address)
  const job = params.get('job')
  useEffect(() => {
    if (written.current === address) return
    written.current = address
    setTyped(typedOfAddress(new URLSearchParams(address), started))
  }, [address, started, setTyped])
  useEffect(() => {
    const timer = setTimeout(() => {
      const next = addressOfTyped(typed, started, job)
      if (next.toString() === written.current) return
      written.current = next.toString()
      setParams(next, { replace: true, preventScrollReset: true })
    }, settleMs)
    return () => clearTimeout(timer)
  }, [typed, started, job, setParams])
}

/** Refusals as they are shown: put right ones vanish at once, new ones wait until typing rests. */
function useSettled(now: Refusals): Refusals {
  const [settled, setSettled] = useState(now)
  useEffect(() => {
    const timer = setTimeout(() => setSettled(now), settleMs)
    return () => clearTimeout(timer)
  }, [now])
  return useMemo(
    () =>
      Object.fromEntries(
        keys.flatMap((key) => (settled[key] && now[key] ? [[key, now[key]]] : [])),
      ) as Refusals,
    [settled, now],
  )
}
