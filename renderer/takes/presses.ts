import { TRPCClientError } from '@trpc/client'
import { useCallback, useEffect, useRef, useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import type { ShownRefusal } from '../parts/refusal.ts'
import { api, refusalOf } from '../shell/api.ts'
import { reportBreakage } from '../shell/breakage.ts'
import { somethingChanged } from '../shell/changes.ts'

const retryMs = 1000

/** A frame as the store has kept it. */
export type KeptPress = Answers['takes']['press']

export interface Presses {
  /** Sends one frame; `mark` shoots a missing mark, counted from 0. */
  readonly press: (mark?: number) => void
  /** Presses that the store has not confirmed yet. */
  readonly waiting: number
  /** True while the studio does not answer and a press is sent again. */
  readonly isCut: boolean
  /** The frames that were kept from this page, in their order. */
  readonly kept: readonly KeptPress[]
  readonly refusal: ShownRefusal | undefined
}

/**
 * Sends frame presses one after the other. Each has a key of its own and is sent again with it until the
 * studio has answered, so that no press is lost and none is counted twice.
 */
export function usePresses(takeId: number): Presses {
  const [state, setState] = useState<Omit<Presses, 'press'>>({
    waiting: 0,
    isCut: false,
    kept: [],
    refusal: undefined,
  })
  const queue = useRef<Promise<void>>(Promise.resolve())
  const isGone = useRef(false)
  useEffect(() => {
    isGone.current = false
    return () => {
      isGone.current = true
    }
  }, [])
  const press = useCallback(
    (mark?: number) => {
      const pressKey = newKey()
      setState((before) => ({ ...before, waiting: before.waiting + 1, refusal: undefined }))
      queue.current = queue.current.then(async () => {
        while (!isGone.current) {
          try {
            const one = await api.takes.press.mutate({ takeId, pressKey, mark })
            setState((before) => ({
              ...before,
              waiting: before.waiting - 1,
              isCut: false,
              kept: [...before.kept, one],
            }))
            somethingChanged()
            return
          } catch (error) {
            if (!isUnanswered(error)) {
              const refusal = refusalOf(error)
              if (!refusal) reportBreakage(error)
              setState((before) => ({ ...before, waiting: before.waiting - 1, isCut: false, refusal }))
              return
            }
            setState((before) => ({ ...before, isCut: true }))
            await new Promise((resolve) => setTimeout(resolve, retryMs))
          }
        }
      })
    },
    [takeId],
  )
  return { ...state, press }
}

/** True where the studio never answered, so that nobody knows whether the press was kept. */
function isUnanswered(error: unknown): boolean {
  return !(error instanceof TRPCClientError) || error.data === undefined || error.data === null
}

// A page that came over plain HTTP from another device has no crypto.randomUUID.
const pageKey = `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 12)}`
let presses = 0

function newKey(): string {
  presses += 1
  return `${pageKey}-${presses}`
}
