import { um10FromMm } from '../../main/trade/length.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import type { TypedQuote } from './quoteValue.ts'

/** A turn that the address brings along, from the planner: what it sets, and what in it could not be read. */
export interface AddressTurn {
  readonly values: Partial<TypedQuote>
  readonly sentences: readonly string[]
}

const names = ['frames', 'overlap', 'rows', 'rim'] as const

const counts = [
  { name: 'frames', key: 'framesPerTurn', least: 2, most: 1440, what: 'frames a turn' },
  { name: 'overlap', key: 'overlapFrames', least: 0, most: 1440, what: 'overlap' },
  { name: 'rows', key: 'rows', least: 1, most: 20, what: 'rows' },
] as const

/** Whether an address brings a turn. */
export function bringsTurn(params: URLSearchParams): boolean {
  return names.some((name) => params.has(name))
}

/** The address without the turn it brought. */
export function withoutTurn(params: URLSearchParams): URLSearchParams {
  const rest = new URLSearchParams(params)
  for (const name of names) rest.delete(name)
  return rest
}

/**
 * Reads `?frames=&overlap=&rows=&rim=` (the rim in mm) into a quote's turn. What cannot be a turn is left out and
 * said in a sentence; the rest is taken.
 */
export function turnFromAddress(params: URLSearchParams): AddressTurn {
  const values: { -readonly [K in keyof TypedQuote]?: TypedQuote[K] } = {}
  const sentences: string[] = []
  for (const { name, key, least, most, what } of counts) {
    const text = params.get(name)
    if (text === null) continue
    const value = /^\d{1,5}$/u.test(text) ? Number(text) : Number.NaN
    if (value >= least && value <= most) values[key] = value
    else
      sentences.push(
        `The address asks for “${text}” ${what}, which is no number from ${least} to ${most}. It was left out.`,
      )
  }
  // A number of frames that came along stands for itself; a step typed before would contradict it.
  if (values.framesPerTurn !== undefined) values.stepUm10 = null
  const rim = params.get('rim')
  if (rim !== null) {
    const rimUm10 = readRim(rim)
    if (rimUm10 === undefined) {
      sentences.push(
        `The address asks for a rim of “${rim}” mm, which is no rim from 100 to 10,000 mm. It was left out.`,
      )
    } else values.rimUm10 = rimUm10
  }
  return { values, sentences }
}

function readRim(text: string): number | undefined {
  if (!/^\d{1,5}(\.\d{1,4})?$/u.test(text)) return undefined
  const rimMm = Number(text)
  if (rimMm < 100 || rimMm > 10_000) return undefined
  try {
    return um10FromMm(rimMm, 'The rim')
  } catch (error) {
    if (error instanceof Refusal) return undefined
    throw error
  }
}
