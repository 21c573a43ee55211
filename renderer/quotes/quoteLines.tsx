import { formatMilli, lineNetMinor } from '../../main/trade/money.ts'
import { clientFigures } from '../../main/trade/paperFigures.ts'
import type { QuoteBasis, QuotedLine, QuoteFigures } from '../../main/trade/quote.ts'
import { paperTexts } from '../../main/trade/texts/paperTexts.ts'
import { rightLineText } from '../../main/trade/usageRights.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { TextField } from '../parts/field.tsx'
import { FieldTable, FigureCell } from '../parts/fieldTable.tsx'
import { MoneyField, NumberField } from '../parts/figureFields.tsx'
import { moneyText } from '../parts/format.ts'
import { Empty, Part } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import css from './quotes.module.css'
import { keyed, newLine, type TypedLine, type TypedQuote } from './quoteValue.ts'

interface LinesProps {
  readonly typed: TypedQuote
  readonly basis: QuoteBasis
  readonly figures: QuoteFigures | undefined
  readonly patch: (values: Partial<TypedQuote>) => void
}

const columns = [
  { head: 'What' },
  { head: 'Quantity', figure: true, width: 88 },
  { head: 'Price', figure: true, width: 120 },
  { head: 'Amount', figure: true, width: 92 },
  { head: 'Take away', isHeadSpoken: true, width: 76 },
]

/** The lines of the client's paper: worked out, or typed by hand; fees and rights are always typed. */
export function QuoteLines(props: LinesProps & { readonly jobId: number }) {
  const { typed, figures, patch } = props
  const isByHand = typed.byHand !== null
  const nextRight = useNextRight(props)
  const add = (line: TypedLine) =>
    patch(typed.byHand ? { byHand: [...typed.byHand, line] } : { fees: [...typed.fees, line] })
  return (
    <Part
      title="Lines"
      acts={
        <ButtonRow>
          {isByHand ? (
            <Button kind="quiet" onClick={() => patch({ byHand: null })}>
              Work the lines out again
            </Button>
          ) : (
            <Button
              kind="quiet"
              disabled={!figures}
              onClick={() => figures && patch({ byHand: figures.lines.map(plainLine).map(keyed) })}
            >
              Type the lines by hand
            </Button>
          )}
          <Button kind="quiet" onClick={() => add(newLine('fee', typed.taxRateId))}>
            {isByHand ? 'Add a line' : 'Add a fee'}
          </Button>
          <Button
            kind="quiet"
            onClick={() => add({ ...newLine('right', typed.taxRateId), text: nextRight ?? '' })}
          >
            Charge for a right of use
          </Button>
        </ButtonRow>
      }
    >
      {isByHand ? (
        <p className={css.note}>
          These lines are typed by hand: they stay as they are when the turn or the discount changes.
        </p>
      ) : null}
      <LineTable {...props} />
    </Part>
  )
}

/** The next of the job's rights that no line charges for yet, in the client's words. */
function useNextRight({ jobId, typed, basis }: LinesProps & { readonly jobId: number }): string | undefined {
  const rights = useAsk(['usageRights', 'ofJob', jobId], () => api.usageRights.ofJob.query({ jobId }))
  const charged = new Set((typed.byHand ?? typed.fees).map(({ text }) => text))
  return rights.data
    ?.filter(({ withdrawnAt }) => withdrawnAt === null)
    .map((right) => rightLineText(right, paperTexts[basis.language].rights, clientFigures(basis).day))
    .find((text) => !charged.has(text))
}

function plainLine({ netMinor: _, ...line }: QuotedLine) {
  return line
}

function LineTable({ typed, basis, figures, patch }: LinesProps) {
  const worked = typed.byHand
    ? []
    : (figures?.lines ?? []).filter(({ kind }) => kind !== 'fee' && kind !== 'right')
  const hand = typed.byHand ?? typed.fees
  const change = (lines: readonly TypedLine[]) => patch(typed.byHand ? { byHand: lines } : { fees: lines })
  if (worked.length + hand.length === 0) {
    return <Empty sentence="There is no line yet. Add the job’s products under Spins, or a line by hand." />
  }
  return (
    <FieldTable caption="Lines of the quote" columns={columns} wide>
      {worked.map((line, index) => (
        // Worked-out lines have no identity of their own; a case and its kind stand once each.
        <WorkedLine key={`${line.kind} ${line.text} ${index}`} line={line} currency={basis.currency} />
      ))}
      {hand.map((line, index) => (
        <HandLine
          key={line.key}
          line={line}
          place={index + 1}
          name={`${typed.byHand ? 'byHand' : 'fees'}.${index}`}
          currency={basis.currency}
          onChange={(some) =>
            change(hand.map((each) => (each.key === line.key ? { ...each, ...some } : each)))
          }
          onRemove={() => change(hand.filter(({ key }) => key !== line.key))}
        />
      ))}
    </FieldTable>
  )
}

function WorkedLine({ line, currency }: { readonly line: QuotedLine; readonly currency: string }) {
  return (
    <tr>
      <td>
        <span className={css.text}>{line.text}</span>
        {line.why ? <span className={css.why}>{line.why}</span> : null}
      </td>
      <FigureCell>{formatMilli(line.quantityMilli)}</FigureCell>
      <FigureCell>{moneyText(line.priceMinor, currency)}</FigureCell>
      <FigureCell>{moneyText(line.netMinor, currency)}</FigureCell>
      <td />
    </tr>
  )
}

function HandLine(props: {
  readonly line: TypedLine
  readonly place: number
  /** The name the line is sent under. */
  readonly name: string
  readonly currency: string
  readonly onChange: (some: Partial<TypedLine>) => void
  readonly onRemove: () => void
}) {
  const { line, place, name, currency, onChange } = props
  return (
    <tr>
      <td>
        <TextField
          label={`Text, line ${place}`}
          name={`${name}.text`}
          width="wide"
          value={line.text}
          onChange={(text) => onChange({ text })}
        />
        {line.why ? <span className={css.why}>{line.why}</span> : null}
      </td>
      <td>
        <NumberField
          label={`Quantity, line ${place}`}
          name={`${name}.quantityMilli`}
          places={3}
          value={line.quantityMilli}
          onChange={(quantityMilli) => onChange({ quantityMilli })}
        />
      </td>
      <td>
        <MoneyField
          label={`Price, line ${place}`}
          name={`${name}.priceMinor`}
          currency={currency}
          value={line.priceMinor}
          onChange={(priceMinor) => onChange({ priceMinor })}
        />
      </td>
      <FigureCell>{amountText(line, currency)}</FigureCell>
      <td>
        <Button kind="quiet" aria-label={`Take away line ${place}`} onClick={props.onRemove}>
          Take away
        </Button>
      </td>
    </tr>
  )
}

/** A line's amount while it is typed; empty where a figure is missing. */
function amountText(line: TypedLine, currency: string): string {
  if (line.quantityMilli === null || line.priceMinor === null) return ''
  return moneyText(lineNetMinor(line.quantityMilli, line.priceMinor, line.baseMilli), currency)
}
