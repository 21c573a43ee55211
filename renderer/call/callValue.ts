import type { Answers } from '../../main/api/types.ts'
import { type CallAnswer, type CallAsk, callAnswer } from '../../main/trade/callQuote.ts'
import type { DeliverableKind } from '../../main/trade/price.ts'
import type { SizeClass } from '../../main/trade/product.ts'
import { Refusal } from '../../main/trade/refusal.ts'

export type CallBasis = Answers['calls']['basis']

/** A call as it is typed. */
export interface TypedCall {
  readonly spins: number | null
  readonly sizeClass: SizeClass
  /** The finish class's number as text; '' for none. */
  readonly finish: string
  readonly loop: boolean
  readonly frameSet: boolean
  readonly stills: boolean
}

export const noCall: TypedCall = {
  spins: null,
  sizeClass: 'medium',
  finish: '',
  loop: true,
  frameSet: false,
  stills: false,
}

/** What the caller asks for, once it says how many. */
export function askOf(typed: TypedCall): CallAsk | undefined {
  if (typed.spins === null) return undefined
  const chosen: readonly (readonly [DeliverableKind, boolean])[] = [
    ['loop', typed.loop],
    ['frame set', typed.frameSet],
    ['stills', typed.stills],
  ]
  return {
    spins: typed.spins,
    sizeClass: typed.sizeClass,
    finishClassId: typed.finish === '' ? null : Number(typed.finish),
    kinds: chosen.flatMap(([kind, isChosen]) => (isChosen ? [kind] : [])),
  }
}

/** The answer to a call, or the sentence why there is none. */
export function answerTo(basis: CallBasis, ask: CallAsk | undefined): CallAnswer | string | undefined {
  if (!ask) return undefined
  try {
    return callAnswer(basis.basis, ask, basis.usual)
  } catch (error) {
    if (error instanceof Refusal) return error.message
    throw error
  }
}

const kindWords: Readonly<Record<DeliverableKind, string>> = {
  loop: 'loop video',
  'frame set': 'frame set',
  stills: 'stills',
}

/** '40 medium products, cut-out: loop video and frame set'. */
export function askTitle(ask: CallAsk, finishName: string | undefined): string {
  const products = `${ask.spins} ${ask.sizeClass} ${ask.spins === 1 ? 'product' : 'products'}`
  const finish = finishName === undefined ? '' : `, ${finishName}`
  return `${products}${finish}: ${ask.kinds.map((kind) => kindWords[kind]).join(' and ')}`
}
