import { useState } from 'react'
import { useSearchParams } from 'react-router'
import { formatDecimal } from '../../main/trade/decimal.ts'
import { formatMilli, formatPercent, shareMinor } from '../../main/trade/money.ts'
import { areRowsAlike } from '../../main/trade/turn/rows.ts'
import type { DeliveredPicture } from '../../main/trade/turnLook.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { dayText, instantText, moneyText, withUnit } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Columns, Empty, Fact, Part, Sheet } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { useStudio } from '../shell/studio.ts'
import { bringsTurn } from './addressTurn.ts'
import { AcceptQuote, DeclineQuote, LapseQuote } from './quoteDialogs.tsx'
import { ClientSums, StudioSide } from './quoteFigures.tsx'
import css from './quotes.module.css'
import type { QuoteOfJob } from './quoteValue.ts'
import { keptWay, WaysTable } from './quoteWays.tsx'
import { stateWords } from './stateWords.ts'

/** A quote that was sent, as it was sent, with the client's answer or the ways to write it down. */
export function SentQuote(props: {
  readonly of: QuoteOfJob
  /** All ways of the version, this one among them. */
  readonly ways: readonly QuoteOfJob[]
  readonly picture: DeliveredPicture | null
  readonly canRevise: boolean
  readonly onShow: (quoteId: number) => void
}) {
  const { of, ways } = props
  const { quote } = of
  const spins = new Set(of.lines.flatMap(({ shootIds }) => shootIds)).size
  return (
    <Columns aside>
      <div className={css.main}>
        <SentActs {...props} />
        <TurnNotTaken of={of} canRevise={props.canRevise} />
        {ways.length > 1 ? (
          <Part title="Ways of doing it">
            <WaysTable
              ways={ways.map(keptWay)}
              shown={quote.way}
              onShow={(way) => {
                const wanted = ways.find((each) => each.quote.way === way)
                if (wanted) props.onShow(wanted.quote.id)
              }}
              currency={quote.currency}
              spins={spins}
              picture={props.picture}
            />
          </Part>
        ) : null}
        <Part title="Lines">
          <SentLines of={of} />
        </Part>
        <Part title="What was quoted">
          <SentFacts of={of} />
        </Part>
      </div>
      <aside className={css.side} aria-label="What it comes to">
        <ClientSums
          figures={{
            ...quote,
            taxes: of.taxes,
            depositMinor: shareMinor(quote.totalMinor, quote.depositPpm),
          }}
          depositPpm={quote.depositPpm}
          currency={quote.currency}
        />
        <StudioSide
          own={{ ...quote, cost: { medianMinor: quote.costMedianMinor, p80Minor: quote.costP80Minor } }}
          currency={quote.currency}
        />
      </aside>
    </Columns>
  )
}

/** Said where the planner brought a turn: a sent quote stays as it is, and its next version takes the turn. */
function TurnNotTaken({ of, canRevise }: { readonly of: QuoteOfJob; readonly canRevise: boolean }) {
  const [params] = useSearchParams()
  if (!bringsTurn(params)) return null
  return (
    <p className={css.note} role="status">
      {`Quote ${of.name} was sent and stays as it is: the planned turn is not taken over.${canRevise ? ' Begin the next version, and it has that turn.' : ''}`}
    </p>
  )
}

function SentActs(props: {
  readonly of: QuoteOfJob
  readonly ways: readonly QuoteOfJob[]
  readonly canRevise: boolean
}) {
  const { of, ways, canRevise } = props
  const { quote, paper } = of
  const { today } = useStudio()
  const say = useNotice()
  const [asking, setAsking] = useState<'accept' | 'decline' | 'lapse'>()
  const revise = useAct(
    () => api.quotes.revise.mutate({ quoteId: quote.id }),
    () => say('The next version is begun, as a draft.'),
  )
  const close = () => setAsking(undefined)
  const isOver = quote.validUntil !== null && quote.validUntil < today
  return (
    <>
      <ButtonRow>
        {quote.state === 'sent' ? (
          <>
            <Button kind="main" onClick={() => setAsking('accept')}>
              The client said yes
            </Button>
            <Button onClick={() => setAsking('decline')}>The client said no</Button>
            {isOver ? <Button onClick={() => setAsking('lapse')}>Let it lapse</Button> : null}
          </>
        ) : null}
        {paper ? <Button onClick={() => openPaper(paper.id)}>Open the paper</Button> : null}
        {canRevise ? (
          <Button busy={revise.busy} onClick={() => revise.run()}>
            Begin the next version
          </Button>
        ) : null}
      </ButtonRow>
      {revise.refusal ? <FormRefusal sentence={revise.refusal.sentence} /> : null}
      {asking === 'accept' ? (
        <AcceptQuote of={of} ways={ways.filter(({ quote: way }) => way.state === 'sent')} onClose={close} />
      ) : null}
      {asking === 'decline' ? <DeclineQuote of={of} onClose={close} /> : null}
      {asking === 'lapse' ? <LapseQuote of={of} onClose={close} /> : null}
    </>
  )
}

type Line = QuoteOfJob['lines'][number]

function SentLines({ of }: { readonly of: QuoteOfJob }) {
  const { currency } = of.quote
  const columns: readonly Column<Line & { readonly place: number }>[] = [
    {
      key: 'text',
      head: 'What',
      cell: (line) => (
        <>
          {line.text}
          {line.why ? <span className={css.why}>{line.why}</span> : null}
        </>
      ),
    },
    { key: 'quantity', head: 'Quantity', figure: true, cell: (line) => formatMilli(line.quantityMilli) },
    { key: 'price', head: 'Price', figure: true, cell: (line) => moneyText(line.priceMinor, currency) },
    { key: 'net', head: 'Amount', figure: true, cell: (line) => moneyText(line.netMinor, currency) },
  ]
  return (
    <Table
      caption={`Lines of quote ${of.name}`}
      columns={columns}
      rows={of.lines.map((line, index) => ({ ...line, place: index + 1 }))}
      keyOf={(line) => line.place}
      empty={<Empty sentence="This quote has no lines." />}
    />
  )
}

/** '244 frames and 3 of overlap, one row', or each row from its angle where they differ. */
function rowsText(rows: QuoteOfJob['quote']['rows']): string {
  const of = (row: (typeof rows)[number]) => `${row.framesPerTurn} frames and ${row.overlapFrames} of overlap`
  const [first] = rows
  if (first && areRowsAlike(rows)) {
    return `${of(first)}, ${rows.length === 1 ? 'one row' : `${rows.length} rows`}`
  }
  return rows.map((row) => `${of(row)} at ${formatDecimal(row.viewAngleMdeg, 3)}°`).join('; ')
}

function SentFacts({ of }: { readonly of: QuoteOfJob }) {
  const { quote } = of
  const { today, timeZone } = useStudio()
  return (
    <Sheet>
      {quote.sentAt ? <Fact label="Sent">{instantText(quote.sentAt, timeZone)}</Fact> : null}
      {quote.validUntil ? <Fact label="Valid until">{dayText(quote.validUntil, today)}</Fact> : null}
      {quote.decidedAt ? (
        <Fact label={stateWords[quote.state]}>
          {[instantText(quote.decidedAt, timeZone), quote.decidedReason].filter(Boolean).join(', ')}
        </Fact>
      ) : null}
      {quote.decidedPriceMinor === null ? null : (
        <Fact label="Their price">{moneyText(quote.decidedPriceMinor, quote.currency)}</Fact>
      )}
      {quote.dueDay ? <Fact label="Delivery by">{dayText(quote.dueDay, today)}</Fact> : null}
      <Fact label="The turn">
        {[rowsText(quote.rows), quote.rimMm === null ? '' : `on a rim of ${withUnit(quote.rimMm, 'mm', 4)}`]
          .filter(Boolean)
          .join(', ')}
      </Fact>
      {quote.discountPpm > 0 ? <Fact label="Discount">{formatPercent(quote.discountPpm)}</Fact> : null}
      {quote.assumptions ? <Fact label="Assumes">{quote.assumptions}</Fact> : null}
      {quote.terms ? <Fact label="Terms">{quote.terms}</Fact> : null}
    </Sheet>
  )
}
