import { useSearchParams } from 'react-router'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { moneyText } from '../parts/format.ts'
import { JobRights } from '../rights/jobRights.tsx'
import { api, useAsk } from '../shell/api.ts'
import { QuoteDraft } from './quoteDraft.tsx'
import css from './quotes.module.css'
import type { JobQuotes, QuoteOfJob } from './quoteValue.ts'
import { SentQuote } from './sentQuote.tsx'
import { stateWords, wayWords } from './stateWords.ts'

/** A job's quote: the draft while it is made, in up to three ways, and the sent versions as they were sent. */
export function JobQuote({ jobId }: { readonly jobId: number }) {
  const quotes = useAsk(['quotes', 'ofJob', jobId], () => api.quotes.ofJob.query({ jobId }))
  const answer = useAsk(['quotes', 'basis', jobId], () => api.quotes.basis.query({ jobId }))
  const [params, setParams] = useSearchParams()
  const show = (quoteId: number) =>
    setParams(
      (before) => {
        before.set('quote', String(quoteId))
        return before
      },
      { replace: true, preventScrollReset: true },
    )
  return (
    <Asked of={quotes}>
      {(all) => {
        const wished = all.find(({ quote }) => String(quote.id) === params.get('quote'))
        const shown = wished ?? all.find(({ quote }) => quote.state === 'accepted') ?? all[0]
        const ways = all.filter(({ quote }) => quote.version === shown?.quote.version)
        return (
          <div className={css.quote}>
            <Versions jobId={jobId} all={all} shown={shown} onShow={show} />
            {shown && shown.quote.state !== 'draft' ? (
              <SentQuote
                of={shown}
                ways={ways}
                picture={answer.data?.picture ?? null}
                canRevise={canRevise(all, shown)}
                onShow={show}
                key={shown.quote.id}
              />
            ) : (
              <Asked of={answer}>
                {(basis) => (
                  // A draft begun elsewhere, or kept for the first time, is another form; so is another way.
                  <QuoteDraft
                    key={`${jobId} ${shown?.quote.version ?? 1} ${shown?.quote.way ?? 'as asked'}`}
                    jobId={jobId}
                    draft={shown}
                    drafts={ways}
                    answer={basis}
                    onShow={show}
                  />
                )}
              </Asked>
            )}
            <JobRights jobId={jobId} />
          </div>
        )
      }}
    </Asked>
  )
}

/** The next version begins from the newest one, while none is accepted and no draft is open. */
function canRevise(all: JobQuotes, shown: QuoteOfJob): boolean {
  const isOpen = all.some(({ quote }) => quote.state === 'accepted' || quote.state === 'draft')
  return !isOpen && shown.quote.version === all[0]?.quote.version
}

/** The versions of the quote, the newest first; the one shown is pressed. */
function Versions(props: {
  readonly jobId: number
  readonly all: JobQuotes
  readonly shown: QuoteOfJob | undefined
  readonly onShow: (quoteId: number) => void
}) {
  const { all, shown } = props
  if (!shown) {
    return (
      <header className={css.versions}>
        <h2>A new quote</h2>
        <ByWhen jobId={props.jobId} />
      </header>
    )
  }
  const versions = [...new Set(all.map(({ quote }) => quote.version))].flatMap((version) => {
    const ways = all.filter(({ quote }) => quote.version === version)
    const spokenFor = ways.find(({ quote }) => quote.state === 'accepted') ?? ways[0]
    return spokenFor ? [{ of: ways.includes(shown) ? shown : spokenFor, ways: ways.length }] : []
  })
  return (
    <header className={css.versions}>
      <h2>{titleOf(shown, all)}</h2>
      {versions.length > 1 ? (
        <ButtonRow>
          {versions.map(({ of, ways }) => (
            <Button
              key={of.quote.version}
              kind="quiet"
              aria-pressed={of === shown}
              onClick={() => props.onShow(of.quote.id)}
            >
              {`v${of.quote.version} ${stateWords[of.quote.state].toLowerCase()}, ${
                ways > 1 ? `${ways} ways` : moneyText(of.quote.totalMinor, of.quote.currency)
              }`}
            </Button>
          ))}
        </ButtonRow>
      ) : null}
      {shown.quote.state === 'accepted' ? null : <ByWhen jobId={props.jobId} quoteId={shown.quote.id} />}
    </header>
  )
}

/** The way to the question by when the quote's spins could be turned. */
function ByWhen({ jobId, quoteId }: { readonly jobId: number; readonly quoteId?: number }) {
  const quote = quoteId === undefined ? '' : `?quote=${quoteId}`
  return <ButtonLink to={`/jobs/${jobId}/quote/when${quote}`}>By when could it be done?</ButtonLink>
}

function titleOf({ name, quote }: QuoteOfJob, all: JobQuotes): string {
  const isOneOfSeveral = all.some(
    (other) => other.quote.version === quote.version && other.quote.way !== quote.way,
  )
  const way = isOneOfSeveral ? `, ${wayWords[quote.way].toLowerCase()}` : ''
  return `Quote ${name}${way}: ${stateWords[quote.state].toLowerCase()}`
}
