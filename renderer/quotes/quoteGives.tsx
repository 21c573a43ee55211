import { useDeferredValue, useMemo, useState } from 'react'
import { Link } from 'react-router'
import { minorDigits } from '../../main/trade/currency.ts'
import type { QuoteBasis, QuoteFigures } from '../../main/trade/quote.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { givenRows } from '../../main/trade/turn/givenRows.ts'
import { areRowsAlike } from '../../main/trade/turn/rows.ts'
import { type Answer, type Change, type WhatGives, whatGives } from '../../main/trade/whatGives.ts'
import type { RowValue } from '../briefs/briefValue.ts'
import { Button } from '../parts/button.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { FieldLine } from '../parts/form.tsx'
import { moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import css from './quotes.module.css'
import { inputOf, readRows, type TypedQuote } from './quoteValue.ts'

interface GivesProps {
  readonly jobId: number
  readonly typed: TypedQuote
  readonly basis: QuoteBasis
  readonly figures: QuoteFigures | undefined
  readonly patch: (values: Partial<TypedQuote>) => void
}

/** 'At 52.00 a spin, what must give?': the fewest changes under which a wished price still covers the floor. */
export function QuoteGives(props: GivesProps) {
  const { basis, figures } = props
  const [wished, setWished] = useState<number | null>(null)
  const spins = basis.spins.length
  const answer = useAnswer(props, useDeferredValue(wished))
  if (spins === 0 || !basis.rates || !figures?.cost || figures.cost.p80Minor === 0) return null
  const floorMinor = figures.cost.p80Minor
  return (
    <Part title="What must give for a price">
      <FieldLine>
        <MoneyField
          label="Wished price a spin, before tax"
          width="normal"
          currency={basis.currency}
          value={wished}
          onChange={setWished}
        />
        <p className={css.level}>
          {`The floor is ${moneyText(perSpin(floorMinor, spins), basis.currency)} a spin: under it the cost at the 80 % time is not covered. This quote asks ${moneyText(Math.round(figures.netMinor / spins), basis.currency)}.`}
        </p>
      </FieldLine>
      <div role="status">{answer ? <Answers {...props} answer={answer} /> : null}</div>
    </Part>
  )
}

/** Rounded up: a floor a spin that did not add up to the whole floor would be none. */
function perSpin(minor: number, spins: number): number {
  return Math.ceil(minor / spins)
}

function useAnswer({ typed, basis }: GivesProps, wished: number | null): WhatGives | string | undefined {
  return useMemo(() => {
    const input = inputOf(typed)
    if (wished === null || !input || basis.spins.length === 0) return undefined
    try {
      return whatGives(basis, input, wished * basis.spins.length)
    } catch (error) {
      if (error instanceof Refusal) return error.message
      throw error
    }
  }, [typed, basis, wished])
}

function Answers(props: GivesProps & { readonly answer: WhatGives | string }) {
  const { answer, basis } = props
  if (typeof answer === 'string') return <p className={css.said}>{answer}</p>
  const { currency } = basis
  const spins = basis.spins.length
  const [first] = answer.answers
  if (!first) {
    return (
      <p className={css.said}>
        {`That price cannot be reached: with everything given that can be, the floor is still ${moneyText(perSpin(answer.lowestMinor, spins), currency)} a spin.`}
      </p>
    )
  }
  if (first.changes.length === 0) {
    return (
      <p className={css.said}>
        {`Nothing must give: that price is ${moneyText(answer.wishedMinor - answer.floorMinor, currency)} over the floor of the whole job.`}
      </p>
    )
  }
  return (
    <>
      <p className={css.said}>
        {first.changes.length === 1
          ? `One change is enough${answer.answers.length > 1 ? ', any of these' : ''}:`
          : `${first.changes.length} changes are needed together${answer.answers.length > 1 ? ', any of these sets' : ''}:`}
      </p>
      <ul className={css.gives} aria-label="What could give">
        {answer.answers.map((each) => (
          <OneAnswer key={each.changes.map(({ lever }) => lever).join(' ')} {...props} of={each} />
        ))}
      </ul>
    </>
  )
}

function OneAnswer({ of, jobId, typed, basis, patch }: GivesProps & { readonly of: Answer }) {
  const say = useNotice()
  const turn = of.changes.filter(({ lever }) => lever !== 'finishing')
  return (
    <li>
      <span>
        {of.changes.map((change) => (
          <span key={change.lever} className={css.change}>
            {changeText(change, basis, typed.rows)}
            {change.lever === 'finishing' ? (
              <>
                {', which is agreed in '}
                <Link to={`/jobs/${jobId}/brief`}>the brief</Link>
              </>
            ) : null}
          </span>
        ))}
        <span className={css.why}>
          {`The floor is then ${moneyText(perSpin(of.floorMinor, basis.spins.length), basis.currency)} a spin.`}
        </span>
      </span>
      {turn.length > 0 ? (
        <Button
          onClick={() => {
            patch({
              rows: rowsWith(typed.rows, turn),
              ...(turn.some(({ lever }) => lever === 'frames') ? { stepUm10: null } : {}),
            })
            say('Taken into the quote. Its price is still yours to set.')
          }}
        >
          Take it into the quote
        </Button>
      ) : null}
    </li>
  )
}

/** The rows with all of it given. */
function rowsWith(rows: readonly RowValue[], changes: readonly Change[]): readonly RowValue[] {
  return changes.reduce((so, { lever, to }) => {
    if (lever === 'finishing' || to === null) return so
    const read = readRows(so)
    // Rows that are given keep their places, and with them their keys.
    return read ? givenRows(read, lever, to).map((row, index) => ({ ...row, key: so[index]?.key ?? '' })) : so
  }, rows)
}

function changeText(change: Change, basis: QuoteBasis, rows: readonly RowValue[]): string {
  const { lever, from, to, savingMinor } = change
  const unit = 10 ** minorDigits(basis.currency)
  const saves = `saves ${moneyText(Math.round(savingMinor / unit) * unit, basis.currency)}`
  switch (lever) {
    case 'overlap':
      return areRowsAlike(rows)
        ? `Overlap of ${to} instead of ${from} frames ${saves}`
        : `Overlap of at most ${to} frames${inRows(change)} ${saves}`
    case 'frames':
      return areRowsAlike(rows)
        ? `${to} instead of ${from} frames a turn ${saves}`
        : `At most ${to} frames a turn${inRows(change)} ${saves}`
    case 'rows':
      return `${to === 1 ? 'One row' : `${to} rows`} instead of ${from} ${saves}`
    case 'finishing':
      return `Finishing “${finishName(to, basis)}” instead of “${finishName(from, basis)}” ${saves}`
  }
}

/** Which rows feel it: ', in row 1', ', in rows 1 and 2'. */
function inRows({ inRows: rows }: Change): string {
  return rows.length === 1
    ? `, in row ${rows[0]},`
    : `, in rows ${rows.slice(0, -1).join(', ')} and ${rows.at(-1)},`
}

function finishName(id: number | null, basis: QuoteBasis): string {
  return basis.finishClasses.find((finish) => finish.id === id)?.name ?? 'none'
}
