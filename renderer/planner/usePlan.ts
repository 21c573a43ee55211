import { useEffect, useMemo, useRef, useState } from 'react'
import { useNavigation, useSearchParams } from 'react-router'
import { type Store, storeOf, useStore } from '../shell/store.ts'
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
  const [hand] = useState(() => handOf(typedOfAddress(params, started)))
  const typed = useStore(hand.typed)
  const last = useRef<Plan>(undefined)
  const studio = useMemo(() => plannerBasis(start), [start])
  const worked = useMemo(() => workOutPlan(typed, studio, last.current), [typed, studio])
  last.current = worked.plan
  useAddress(hand.typed, started, params, setParams)
  useSettled(worked.refusals, hand.refusals)
  return { worked, studio, hand }
}

function handOf(start: Typed): PlannerHand {
  const typed = storeOf(start)
  return {
    typed,
    refusals: storeOf<Refusals>({}),
    patch: (values) => typed.set({ ...typed.get(), ...values }),
  }
}

/** The address follows what is typed once it rests; going back, or a link, sets the fields. */
function useAddress(
  store: Store<Typed>,
  started: Typed,
  params: URLSearchParams,
  setParams: ReturnType<typeof useSearchParams>[1],
): void {
  const typed = useStore(store)
  const address = params.toString()
  const written = useRef(address)
  const job = params.get('job')
  // On the way to another page, which is not there yet: writing the address would call the way back.
  const isLeaving = useNavigation().state !== 'idle'
  useEffect(() => {
    if (written.current === address) return
    written.current = address
    store.set(typedOfAddress(new URLSearchParams(address), started))
  }, [address, started, store])
  useEffect(() => {
    if (isLeaving) return
    const timer = setTimeout(() => {
      const next = addressOfTyped(typed, started, job)
      if (next.toString() === written.current) return
      written.current = next.toString()
      setParams(next, { replace: true, preventScrollReset: true })
    }, settleMs)
    return () => clearTimeout(timer)
  }, [typed, started, job, isLeaving, setParams])
}

/** Refusals as they are shown: put right ones vanish at once, new ones wait until typing rests. */
function useSettled(now: Refusals, shown: Store<Refusals>): void {
  useEffect(() => {
    const before = shown.get()
    const gone = keys.some((key) => before[key] !== undefined && now[key] === undefined)
    if (gone) {
      shown.set(Object.fromEntries(keys.flatMap((key) => (before[key] && now[key] ? [[key, now[key]]] : []))))
    }
    if (Object.keys(now).length === 0) return
    const timer = setTimeout(() => shown.set(now), settleMs)
    return () => clearTimeout(timer)
  }, [now, shown])
}
