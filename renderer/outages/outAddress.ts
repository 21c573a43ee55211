import type { Asks } from '../../main/api/types.ts'

/** What is out and when, as the address of the page keeps it; a thing not yet chosen is undefined. */
export interface OutAsked {
  readonly thing: Asks['outages']['effects']['thing'] | undefined
  readonly fromDay: string
  /** '' while nobody knows when it is back. */
  readonly toDay: string
}

const kinds = ['equipment', 'platter', 'person'] as const

/** The address of the page that says what it means that something is out. */
export function outAddress(kind: (typeof kinds)[number], id: number, fromDay: string, toDay: string | null) {
  return `/bench/out?${new URLSearchParams({ what: `${kind}-${id}`, from: fromDay, to: toDay ?? '' })}`
}

/** Reads the address; without a day it begins today. */
export function outAsked(params: URLSearchParams, today: string): OutAsked {
  const [kind, id] = (params.get('what') ?? '').split('-')
  const known = kinds.find((one) => one === kind)
  return {
    thing: known && Number(id) > 0 ? ({ kind: known, id: Number(id) } as OutAsked['thing']) : undefined,
    fromDay: params.get('from') || today,
    toDay: params.get('to') ?? '',
  }
}
