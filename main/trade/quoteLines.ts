import { costMinor } from './cost.ts'
import { minorDigits } from './currency.ts'
import { spinBenchMs } from './estimate.ts'
import { lineNetMinor } from './money.ts'
import { type PricedSpin, type PriceLine, type PriceRow, priceJob, type SpinCase } from './price.ts'
import { type SizeClass, sizeClasses } from './product.ts'
import type { QuoteBasis, QuoteInput, QuoteLine, QuoteSpin } from './quote.ts'
import { type QuotedTurn, quoteTime, rowsOf, spinWorkOf } from './quoteTime.ts'
import { adjustmentText, hoursAndMinutes, spinLineText, stepSeconds } from './quoteWords.ts'

/** The lines a quote works out: spins by the price list, what raises and lowers them, and the fees added by hand. */
export function quoteLines(basis: QuoteBasis, input: QuoteInput): readonly QuoteLine[] {
  if (basis.spins.length === 0) return input.fees
  const priced = basis.spins.map((spin) => pricedSpin(spin, input))
  const rushPpm = input.isRush ? basis.rushPpm : 0
  const { lines } = priceJob(priced, wholeList(basis, input), {
    breaks: basis.priceList?.breaks ?? [],
    rushPpm,
    discountPpm: input.discountPpm,
    fees: input.fees.map((fee) => ({ text: fee.text, amountMinor: netOf(fee) })),
    minimumMinor: basis.minimumMinor,
  })
  const fees = [...input.fees]
  const turned = new Set<number>()
  return lines.flatMap((line) => {
    // priceJob gives the fees back in their order; they keep their own quantities and rates.
    if (line.kind === 'fee') return fees.splice(0, 1)
    return [toQuoteLine(line, basis, input, rushPpm, turned)]
  })
}

function netOf(line: QuoteLine): number {
  return lineNetMinor(line.quantityMilli, line.priceMinor, line.baseMilli)
}

type WorkedLine = Exclude<PriceLine, { kind: 'fee' }>

function toQuoteLine(
  line: WorkedLine,
  basis: QuoteBasis,
  input: QuoteInput,
  rushPpm: number,
  turned: Set<number>,
): QuoteLine {
  const plain = {
    quantityMilli: line.quantityMilli,
    priceMinor: line.priceMinor,
    baseMilli: 1000,
    taxRateId: input.taxRateId,
  }
  if (line.kind !== 'spins') {
    const of = { spins: basis.spins.length, rushPpm, discountPpm: input.discountPpm }
    return {
      ...plain,
      kind: line.kind === 'volume' ? 'discount' : line.kind,
      text: adjustmentText(line.kind, of, basis.language),
      unit: 'LS',
      shootIds: [],
      why: null,
    }
  }
  const spins = basis.spins.filter((spin) => isOfCase(pricedSpin(spin, input), line.of))
  const finish = basis.finishClasses.find(({ id }) => id === line.of.finishClassId)
  const why = [turnWhy(spins, basis, input, turned), priceWhy(line.of, basis)].join('; ')
  for (const { shootId } of spins) turned.add(shootId)
  return {
    ...plain,
    kind: 'spins',
    text: spinLineText(line.of, finish?.name, basis.language),
    unit: 'C62',
    shootIds: spins.map(({ shootId }) => shootId),
    why,
  }
}

/** A set of several products is priced by its largest, and as a first one if any of its products is. */
function pricedSpin(spin: QuoteSpin, turn: QuotedTurn): PricedSpin {
  const size = (sizeClass: SizeClass) => sizeClasses.indexOf(sizeClass)
  const sizes = spin.products.map(({ sizeClass }) => sizeClass).sort((a, b) => size(b) - size(a))
  return {
    sizeClass: sizes[0] ?? 'medium',
    finishClassId: spin.finishClassId,
    rows: rowsOf(spin, turn).length,
    isFirstOfFamily: spin.products.some(({ isFirstOfFamily }) => isFirstOfFamily),
    kinds: spin.deliverables.map(({ kind }) => kind),
  }
}

function isOfCase(spin: PricedSpin, of: SpinCase): boolean {
  return (
    spin.sizeClass === of.sizeClass &&
    spin.finishClassId === of.finishClassId &&
    spin.rows === of.rows &&
    spin.isFirstOfFamily === of.isFirstOfFamily &&
    spin.kinds.includes(of.kind)
  )
}

/** '18 spins × (244 + 82) frames × 5.4 s = 8 h 48': how long the turning of a line's spins takes. */
function turnWhy(
  spins: readonly QuoteSpin[],
  basis: QuoteBasis,
  turn: QuotedTurn,
  turned: ReadonlySet<number>,
): string {
  if (spins.every(({ shootId }) => turned.has(shootId))) return 'from the same turns as the lines above'
  const counted = new Map<string, number>()
  let frames = 0
  for (const spin of spins) {
    const rows = rowsOf(spin, turn)
    const sum = rows.map((row) => `(${row.frames} + ${row.overlap})`)
    const same = new Set(sum).size === 1
    const text = same && sum.length > 1 ? `${sum.length} rows × ${sum[0]}` : sum.join(' + ')
    counted.set(text, (counted.get(text) ?? 0) + 1)
    frames += rows.reduce((all, row) => all + row.frames + row.overlap, 0)
  }
  const parts = [...counted].map(
    ([text, count]) => `${count} ${count === 1 ? 'spin' : 'spins'} × ${text} frames`,
  )
  const { stepMs } = basis.pace
  const all = parts.length > 1 ? `${parts.join(' and ')}, ${frames} frames in all,` : (parts[0] ?? '')
  return `${all} × ${stepSeconds(stepMs)} = ${hoursAndMinutes(frames * stepMs)} of turning`
}

function priceWhy(of: SpinCase, basis: QuoteBasis): string {
  if (basis.priceList && listRow(basis.priceList.prices, of)) return `price list “${basis.priceList.name}”`
  return 'no price in a list: worked out from the 80 % time at the studio’s hourly rates'
}

function listRow(list: readonly PriceRow[], of: Omit<SpinCase, 'isFirstOfFamily'>): PriceRow | undefined {
  const rows = list.filter(
    (row) => row.sizeClass === of.sizeClass && row.kind === of.kind && row.rows === of.rows,
  )
  return (
    rows.find((row) => row.finishClassId === of.finishClassId) ??
    rows.find((row) => row.finishClassId === null)
  )
}

/** Whether every spin of the quote has its price in the studio's list. */
export function casesWithoutPrice(
  basis: QuoteBasis,
  turn: QuotedTurn,
): readonly Omit<SpinCase, 'isFirstOfFamily'>[] {
  const missing = new Map<string, Omit<SpinCase, 'isFirstOfFamily'>>()
  for (const spin of basis.spins) {
    const { kinds, isFirstOfFamily: _, ...priced } = pricedSpin(spin, turn)
    for (const kind of kinds) {
      const of = { ...priced, kind }
      if (!listRow(basis.priceList?.prices ?? [], of)) missing.set(JSON.stringify(of), of)
    }
  }
  return [...missing.values()]
}

/** The studio's list, and a row worked out from the time for every case it lacks, so that each spin has a price. */
function wholeList(basis: QuoteBasis, turn: QuotedTurn): readonly PriceRow[] {
  const list = basis.priceList?.prices ?? []
  const missing = casesWithoutPrice(basis, turn)
  if (missing.length === 0) return list
  const costOf = spinCosts(basis, turn)
  return [...list, ...missing.map((of) => workedOutRow(of, basis, turn, costOf))]
}

/**
 * A price per spin that covers its cost, shared evenly by its deliverables and rounded up to whole units of the
 * currency; where the spins of one case differ, their mean.
 */
function workedOutRow(
  of: Omit<SpinCase, 'isFirstOfFamily'>,
  basis: QuoteBasis,
  turn: QuotedTurn,
  costOf: (spin: QuoteSpin) => number,
): PriceRow {
  const unit = 10 ** minorDigits(basis.currency)
  const price = (isFirstOfFamily: boolean) => {
    const spins = basis.spins.filter((spin) => isOfCase(pricedSpin(spin, turn), { ...of, isFirstOfFamily }))
    if (spins.length === 0) return 0
    const sum = spins.reduce((all, spin) => all + costOf(spin) / spin.deliverables.length, 0)
    return Math.ceil(sum / spins.length / unit) * unit
  }
  return { ...of, firstMinor: price(true), followingMinor: price(false) }
}

/**
 * What each spin costs, in minor units: its share of the whole quote's 80 % bench time, by its mean, and its own
 * desk time and bought-in finishing. Not its own 80 % time: those of many spins add up to less than the whole,
 * since each alone counts no restart. Nothing where the studio's rates are in another currency.
 */
function spinCosts(basis: QuoteBasis, turn: QuotedTurn): (spin: QuoteSpin) => number {
  const { rates } = basis
  if (!rates) return () => 0
  const { bench } = quoteTime(basis, turn)
  const workOf = spinWorkOf(basis, turn)
  const known = new Map<string, number>()
  return (spin) => {
    const { shootId: _, ...kind } = spin
    const key = JSON.stringify(kind)
    const before = known.get(key)
    if (before !== undefined) return before
    const { desk, boughtMinor } = quoteTime({ ...basis, spins: [spin] }, turn)
    const benchMs = Math.ceil((spinBenchMs(workOf(spin), basis.pace).meanMs * bench.p80Ms) / bench.meanMs)
    const cost = costMinor(benchMs, desk.totalMs, rates, boughtMinor)
    known.set(key, cost)
    return cost
  }
}
