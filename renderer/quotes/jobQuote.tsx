import { useSearchParams } from 'react-router'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { moneyText } from '../parts/format.ts'
import { api, useAsk } from '../shell/api.ts'
import { QuoteDraft } from './quoteDraft.tsx'
import css from './quotes.module.css'
import type { JobQuotes, QuoteOfJob } from './quoteValue.ts'
import { SentQuote } from './sentQuote.tsx'
import { stateWords } from './stateWords.ts'

/** A job's quote: the draft while it is made, the sent versions as they were sent. */
export function JobQuote({ jobId }: { readonly jobId: number }) {
  const quotes = useAsk(['quotes', 'ofJob', jobId], () => api.quotes.ofJob.query({ jobId }))
  const answer = useAsk(['quotes', 'basis', jobId], () => api.quotes.basis.query({ jobId }))
  const [params, setParams] = useSearchParams()
  return (
    <Asked of={quotes}>
      {(all) => {
        const wished = all.find(({ quote }) => String(quote.id) === params.get('quote'))
        const shown = wished ?? all.find(({ quote }) => quote.state === 'accepted') ?? all[0]
        return (
          <div className={css.quote}>
            <Versions
              all={all}
              shown={shown}
              onShow={(id) => setParams({ quote: String(id) }, { replace: true, preventScrollReset: true })}
            />
            {shown && shown.quote.state !== 'draft' ? (
              <SentQuote of={shown} canRevise={canRevise(all, shown)} key={shown.quote.id} />
            ) : (
              <Asked of={answer}>
                {(basis) => (
                  // A draft begun elsewhere, or kept for the first time, is another form.
                  <QuoteDraft
                    key={`${jobId} ${shown?.quote.version ?? 1}`}
                    jobId={jobId}
                    draft={shown}
                    answer={basis}
                  />
                )}
              </Asked>
            )}
          </div>
        )
      }}
    </Asked>
  )
}

/** The next version begins from the newest one, while none is accepted and no draft is open. */
function canRevise(all: JobQuotes, shown: QuoteOfJob): boolean {
  const isOpen = all.some(({ quote }) => quote.state === 'accepted' || quote.state === 'draft')
  return !isOpen && shown.quote.id === all[0]?.quote.id
}

/** The versions of the quote, the newest first; the one shown is pressed. */
function Versions(props: {
  readonly all: JobQuotes
  readonly shown: QuoteOfJob | undefined
  readonly onShow: (quoteId: number) => void
}) {
  const { all, shown } = props
  if (!shown) return <h2>A new quote</h2>
  return (
    <header className={css.versions}>
      <h2>{`Quote ${shown.name}: ${stateWords[shown.quote.state].toLowerCase()}`}</h2>
      {all.length > 1 ? (
        <ButtonRow>
          {all.map((each) => (
            <Button
              key={each.quote.id}
              kind="quiet"
              aria-pressed={each === shown}
              onClick={() => props.onShow(each.quote.id)}
            >
              {`v${each.quote.version} ${stateWords[each.quote.state].toLowerCase()}, ${moneyText(each.quote.totalMinor, each.quote.currency)}`}
            </Button>
          ))}
        </ButtonRow>
      ) : null}
    </header>
  )
}
