import { TRPCClientError } from '@trpc/client'
import type { Asks } from '../../main/api/types.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { api, refusalOf } from '../shell/api.ts'
import { reportBreakage } from '../shell/breakage.ts'
import { bridge } from '../shell/bridge.ts'
import { somethingChanged } from '../shell/changes.ts'
import { browserKeep, type TakeRef } from './actKeep.ts'
import { type QueueDevice, type SendActs, SignedOut } from './actQueue.ts'
import { clockOf } from './deviceClock.ts'

type Holder = Asks['takes']['hold']['holder']

const keyName = 'turnsheet-device'
const answerMs = 10_000

/** This device as the one that has takes in hand: a key it makes for itself once, and where it stands. */
export function thisDevice(): Holder {
  let key = localStorage.getItem(keyName)
  if (!key) {
    key = `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 12)}`
    localStorage.setItem(keyName, key)
  }
  return { key, place: placeWords() }
}

function placeWords(): string {
  if (bridge) return 'the desktop window'
  return matchMedia('(pointer: coarse)').matches ? 'the tablet' : 'the browser'
}

/** What a queue of acts needs of the browser it runs in. */
export const benchDevice: QueueDevice = {
  keep: browserKeep(),
  nowMs: clockOf(Date.now, () => performance.now()),
  wait: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
}

/** Carries the acts of one take to the studio. */
export function sendActsOf(take: TakeRef): SendActs {
  let isReported = false
  return async (acts, sentMs) => {
    try {
      const asked = api.takes.act.mutate({ ...take, holder: thisDevice(), sentMs, acts })
      const answered = await inTime(asked)
      somethingChanged()
      return answered
    } catch (error) {
      if (statusOf(error) === 401) throw new SignedOut()
      const refusal = refusalOf(error)
      // Without an open studio nobody has answered to the acts themselves.
      if (refusal && refusal.code !== 'no-studio') throw new Refusal(refusal.code, refusal.sentence)
      if (!isReported && error instanceof TRPCClientError && error.data && !refusal) {
        isReported = true
        reportBreakage(error)
      }
      throw error
    }
  }
}

function inTime<T>(answer: Promise<T>): Promise<T> {
  const late = new Promise<never>((_, reject) => {
    setTimeout(() => reject(new Error('The studio has not answered in time.')), answerMs)
  })
  return Promise.race([answer, late])
}

function statusOf(error: unknown): number | undefined {
  if (!(error instanceof TRPCClientError)) return undefined
  const response = error.meta?.response
  return response instanceof Response ? response.status : undefined
}
