import { shareMinor } from './money.ts'

export const termKinds = ['cancelling', 'moving late', 'idle bench'] as const
export type TermKind = (typeof termKinds)[number]

/** What is charged for cancelling or moving booked bench time so few days before it, or for a bench that stood idle. */
export interface Term {
  readonly kind: TermKind
  /** Calendar days before the block begins, this many or fewer; always 0 for an idle bench. */
  readonly withinDays: number
  /** The share of the price of the spins booked then, in parts per million. */
  readonly chargePpm: number
}

/**
 * The term that holds for so many days of notice: of those that reach so far, the one of the fewest days. None for
 * more days than any term names, and for less than no notice, which is a block changed when it was over.
 */
export function termFor(terms: readonly Term[], kind: TermKind, noticeDays: number): Term | undefined {
  if (noticeDays < 0) return undefined
  return terms
    .filter((term) => term.kind === kind && term.withinDays >= noticeDays)
    .toSorted((a, b) => a.withinDays - b.withinDays)[0]
}

/** What a term charges on the price of the spins concerned; minor units, rounded once, half away from zero. */
export function termChargeMinor(term: Term, priceMinor: number): number {
  return shareMinor(priceMinor, term.chargePpm)
}

/** The terms of one kind in the order they are read: the longest notice first. */
export function termsOfKind(terms: readonly Term[], kind: TermKind): readonly Term[] {
  return terms.filter((term) => term.kind === kind).toSorted((a, b) => b.withinDays - a.withinDays)
}

/** The sentences on the paper, in words of the client's language; null where the studio has no such terms. */
export function termsText(terms: readonly Term[], texts: TermTexts, percent: (ppm: number) => string) {
  const sentences = termKinds.flatMap((kind) => {
    const steps = termsOfKind(terms, kind).filter(({ chargePpm }) => chargePpm > 0)
    const [first] = steps
    if (!first) return []
    if (kind === 'idle bench') return [texts.idle(percent(first.chargePpm))]
    const said = steps.map(({ withinDays, chargePpm }) => texts.step(withinDays, percent(chargePpm)))
    return [texts[kind === 'cancelling' ? 'cancelling' : 'moving'](said)]
  })
  return sentences.length === 0 ? null : sentences.join(' ')
}

/** The words of these terms in one language. */
export interface TermTexts {
  /** '2 days or fewer before it begins, 100%'. */
  readonly step: (withinDays: number, percent: string) => string
  readonly cancelling: (steps: readonly string[]) => string
  readonly moving: (steps: readonly string[]) => string
  readonly idle: (percent: string) => string
  /** The text of the line that charges it, and of the extra. */
  readonly charged: Readonly<Record<TermKind, (day: string, percent: string) => string>>
}
