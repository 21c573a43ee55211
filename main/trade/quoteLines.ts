import { costMinor } from './cost.ts'
import { minorDigits } from './currency.ts'
import { spinMeanMs } from './estimate.ts'
import { lineNetMinor } from './money.ts'
import { type PricedSpin, type PriceLine, type PriceRow, priceJob, type SpinCase } from './price.ts'
import { type SizeClass, sizeClasses } from './product.ts'
import type { QuoteBasis, QuoteInput, QuoteLine, QuoteSpin } from './quote.ts'
import { deskSide, type QuotedTurn, quoteTime, rowsOf, spinWorkOf } from './quoteTime.ts'
import { adjustmentText, hoursAndMinutes, spinLineText, stepSeconds } from './quoteWords.ts'
import { framesToShoot, type RowFrames } from './turn/framesToShoot.ts'

/** The lines a quote works out: spins by the price list, what raises and lowers them, and the fees added by hand. */
export function quoteLines(basis: QuoteBasis, input: QuoteInput): readonly QuoteLine[] {
  if (basis.spins.length === 0) return input.fees
  const pricedOf = pricedSpins(input)
  const rushPpm = input.isRush ? basis.rushPpm : 0
  const { lines } = priceJob(basis.spins.map(pricedOf), wholeList(basis, input, pricedOf), {
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
    return [toQuoteLine(line, { basis, input, pricedOf, rushPpm, turned })]
  })
}

function netOf(line: QuoteLine): number {
  return lineNetMinor(line.quantityMilli, line.priceMinor, line.baseMilli)
}

type WorkedLine = Exclude<PriceLine, { kind: 'fee' }>

/** What the lines of one quote are written from. */
interface LineWriting {
  readonly basis: QuoteBasis
  readonly input: QuoteInput
  readonly pricedOf: PricedOf
  readonly rushPpm: number
  /** Spins whose turning a line before has told. */
  readonly turned: Set<number>
}

function toQuoteLine(line: WorkedLine, { basis, input, pricedOf, rushPpm, turned }: LineWriting): QuoteLine {
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
      text: adjustmentText(line.kind, of, basis),
      unit: 'LS',
      shootIds: [],
      why: null,
    }
  }
  const spins = basis.spins.filter((spin) => isOfCase(pricedOf(spin), line.of))
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

type PricedOf = (spin: QuoteSpin) => PricedSpin

/** What decides each spin's price, worked out once: every line asks for all of them. */
function pricedSpins(turn: QuotedTurn): PricedOf {
  const known = new Map<QuoteSpin, PricedSpin>()
  return (spin) => {
    const before = known.get(spin)
    if (before) return before
    const priced = pricedSpin(spin, turn)
    known.set(spin, priced)
    return priced
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
  // Most spins follow the quote's own turn, which is put into words once.
  const shared = rowsText(rowsOf({ ownRows: null }, turn))
  let frames = 0
  for (const { ownRows } of spins) {
    const { text, count } = ownRows === null ? shared : rowsText(ownRows)
    counted.set(text, (counted.get(text) ?? 0) + 1)
    frames += count
  }
  const parts = [...counted].map(
    ([text, count]) => `${count} ${count === 1 ? 'spin' : 'spins'} × ${text} frames`,
  )
  const { stepMs } = basis.pace
  const all = parts.length > 1 ? `${parts.join(' and ')}, ${frames} frames in all,` : (parts[0] ?? '')
  return `${all} × ${stepSeconds(stepMs)} = ${hoursAndMinutes(frames * stepMs)} of turning`
}

/** '(244 + 82)', '2 rows × (120 + 3)' or '(244 + 82 + 122 + 41)', and how many frames that is. */
function rowsText(rows: readonly RowFrames[]): { readonly text: string; readonly count: number } {
  const sums = rows.map((row) => `${row.frames} + ${row.overlap}`)
  const areAlike = new Set(sums).size === 1
  return {
    text: areAlike && sums.length > 1 ? `${sums.length} rows × (${sums[0]})` : `(${sums.join(' + ')})`,
    count: framesToShoot(rows),
  }
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
  pricedOf: PricedOf = pricedSpins(turn),
): readonly Omit<SpinCase, 'isFirstOfFamily'>[] {
  const missing: Omit<SpinCase, 'isFirstOfFamily'>[] = []
  const known = new Set<string>()
  for (const spin of basis.spins) {
    const { kinds, sizeClass, finishClassId, rows } = pricedOf(spin)
    for (const kind of kinds) {
      const key = `${sizeClass} ${finishClassId} ${rows} ${kind}`
      if (known.has(key)) continue
      known.add(key)
      const of = { sizeClass, finishClassId, rows, kind }
      if (!listRow(basis.priceList?.prices ?? [], of)) missing.push(of)
    }
  }
  return missing
}

/** The studio's list, and a row worked out from the time for every case it lacks, so that each spin has a price. */
function wholeList(basis: QuoteBasis, turn: QuotedTurn, pricedOf: PricedOf): readonly PriceRow[] {
  const list = basis.priceList?.prices ?? []
  const missing = casesWithoutPrice(basis, turn, pricedOf)
  if (missing.length === 0) return list
  const costOf = spinCosts(basis, turn)
  return [...list, ...missing.map((of) => workedOutRow(of, basis, pricedOf, costOf))]
}

/**
 * A price per spin that covers its cost, shared evenly by its deliverables and rounded up to whole units of the
 * currency; where the spins of one case differ, their mean.
 */
function workedOutRow(
  of: Omit<SpinCase, 'isFirstOfFamily'>,
  basis: QuoteBasis,
  pricedOf: PricedOf,
  costOf: (spin: QuoteSpin) => number,
): PriceRow {
  const unit = 10 ** minorDigits(basis.currency)
  const price = (isFirstOfFamily: boolean) => {
    const spins = basis.spins.filter((spin) => isOfCase(pricedOf(spin), { ...of, isFirstOfFamily }))
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
  const { bench, work, secondMs } = quoteTime(basis, turn)
  const workOf = spinWorkOf(basis, turn)
  const known = new Map<string, number>()
  const costOf = (spin: QuoteSpin) => {
    const { shootId: _, ...kind } = spin
    const key = JSON.stringify(kind)
    const before = known.get(key)
    if (before !== undefined) return before
    const { desk, boughtMinor } = deskSide(basis, turn, [spin])
    const share = spinMeanMs(workOf(spin), basis.pace) / work.meanMs
    const own = (ms: number) => Math.ceil(share * ms)
    const cost = costMinor(own(bench.p80Ms), desk.totalMs, rates, boughtMinor, own(secondMs))
    known.set(key, cost)
    return cost
  }
  const ofSpins = new Map(basis.spins.map((spin) => [spin, costOf(spin)]))
  return (spin) => ofSpins.get(spin) ?? costOf(spin)
}
