import { useDeferredValue, useEffect, useMemo, useRef, useState } from 'react'
import { useSearchParams } from 'react-router'
import type { QuoteFigures } from '../../main/trade/quote.ts'
import { PeopleField } from '../parts/benchPeople.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Confirm } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { CheckField, DateField, SelectField, TextArea } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { LeaveGuard } from '../parts/leaveGuard.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Columns, Part } from '../parts/page.tsx'
import { api, useAct } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { bringsTurn, turnFromAddress, withoutTurn } from './addressTurn.ts'
import { DraftWays } from './draftWays.tsx'
import { SendQuote } from './quoteDialogs.tsx'
import { ClientSums, StudioSide } from './quoteFigures.tsx'
import { QuoteGives } from './quoteGives.tsx'
import { QuoteLines } from './quoteLines.tsx'
import css from './quotes.module.css'
import { QuoteTurn } from './quoteTurn.tsx'
import {
  figuresOf,
  type QuoteAnswer,
  type QuoteOfJob,
  saveOf,
  type TypedQuote,
  typedFrom,
} from './quoteValue.ts'
import { SoldByFields } from './soldByFields.tsx'

/** A quote while it is made: every figure follows what is typed, and nothing is written until it is kept. */
export function QuoteDraft(props: {
  readonly jobId: number
  /** The way that is typed here; none while nothing was kept yet. */
  readonly draft: QuoteOfJob | undefined
  /** All ways of the same version. */
  readonly drafts: readonly QuoteOfJob[]
  readonly answer: QuoteAnswer
  readonly onShow: (quoteId: number) => void
}) {
  const { jobId, draft, answer } = props
  const { basis } = answer
  const way = draft?.quote.way ?? 'as asked'
  const form = useDraft(typedFrom(draft, answer))
  const brought = useTurnOfAddress(form.patch)
  const say = useNotice()
  const [asking, setAsking] = useState<'send' | 'discard'>()
  const keep = useAct(
    () => api.quotes.save.mutate(saveOf(jobId, way, form.values)),
    () => {
      form.reset(form.values)
      say('The draft is kept.')
    },
  )
  /** Keeps what was typed before something is done that needs it, and gives the draft's id. */
  const kept = async () => {
    if (draft && !form.touched) return draft.quote.id
    const { quoteId } = await api.quotes.save.mutate(saveOf(jobId, way, form.values))
    form.reset(form.values)
    return quoteId
  }
  const look = useAct(
    async () => api.quotes.draftPaper.mutate({ quoteId: await kept() }),
    ({ paperId }) => openPaper(paperId),
  )
  const typed = useDeferredValue(form.values)
  const worked = useMemo(() => figuresOf(basis, typed), [basis, typed])
  const shown = useLastGood(worked.figures)
  const { patch } = form
  return (
    <>
      <Form onSubmit={() => keep.run()} refusal={keep.refusal ?? look.refusal} label="The quote">
        <LeaveGuard when={form.touched} />
        <DraftWays
          jobId={jobId}
          way={way}
          drafts={props.drafts}
          typed={form.values}
          figures={shown}
          answer={answer}
          kept={kept}
          onShow={props.onShow}
        />
        <div className={css.whole}>
          <Columns aside>
            <div className={css.main}>
              <Notices
                sentences={[
                  ...(worked.sentence ? [worked.sentence] : []),
                  ...brought,
                  ...(shown?.notices ?? []),
                ]}
              />
              <QuoteTurn jobId={jobId} typed={form.values} basis={basis} patch={patch} />
              <AtTheBench typed={form.values} patch={patch} />
              <PriceTerms typed={form.values} answer={answer} figures={shown} patch={patch} />
              <QuoteLines
                jobId={jobId}
                typed={form.values}
                basis={basis}
                figures={worked.figures ?? shown}
                patch={patch}
              />
              <QuoteGives jobId={jobId} typed={typed} basis={basis} figures={worked.figures} patch={patch} />
              <PaperWords typed={form.values} patch={patch} />
            </div>
            <aside className={css.side} aria-label="What it comes to">
              {shown ? (
                <Sums
                  figures={shown}
                  answer={answer}
                  depositPpm={form.values.depositPpm ?? 0}
                  people={typed.people}
                />
              ) : null}
              <ButtonRow>
                <Button type="submit" busy={keep.busy}>
                  Keep the draft
                </Button>
                <Button busy={look.busy} disabled={!worked.figures} onClick={() => look.run()}>
                  Look at the paper
                </Button>
                <Button kind="main" disabled={!worked.figures} onClick={() => setAsking('send')}>
                  Send the quote
                </Button>
                {draft ? (
                  <Button kind="quiet" onClick={() => setAsking('discard')}>
                    Throw away
                  </Button>
                ) : null}
              </ButtonRow>
              <p className={css.note}>
                {worked.figures || worked.sentence
                  ? ''
                  : 'A figure is missing, so the sums stand as they were. '}
                {form.touched || !draft ? 'Not kept yet.' : 'Kept. Nothing has changed since.'}
              </p>
            </aside>
          </Columns>
        </div>
      </Form>
      {/* Outside the form: a form within a form is none. */}
      {asking === 'send' && worked.figures ? (
        <SendQuote
          save={() => api.quotes.save.mutate(saveOf(jobId, way, form.values))}
          kept={draft && !form.touched ? draft.quote.id : undefined}
          totalMinor={worked.figures.totalMinor}
          ways={Math.max(1, props.drafts.length)}
          currency={basis.currency}
          validDays={answer.quoteValidDays}
          onSent={() => form.reset(form.values)}
          onClose={() => setAsking(undefined)}
        />
      ) : null}
      {asking === 'discard' && draft ? (
        <Discard
          quoteId={draft.quote.id}
          name={draft.name}
          onDone={() => form.reset(typedFrom(undefined, answer))}
          onClose={() => setAsking(undefined)}
        />
      ) : null}
    </>
  )
}

/** Takes the turn that the address brings, once, and takes it out of the address; gives what could not be read. */
function useTurnOfAddress(patch: (values: Partial<TypedQuote>) => void): readonly string[] {
  const [params, setParams] = useSearchParams()
  const [sentences, setSentences] = useState<readonly string[]>([])
  useEffect(() => {
    if (!bringsTurn(params)) return
    const turn = turnFromAddress(params)
    patch(turn.values)
    setSentences(turn.sentences)
    setParams(withoutTurn(params), { replace: true, preventScrollReset: true })
  }, [params, patch, setParams])
  return sentences
}

/** The last figures that could be worked out: they stay while a field is empty, so that nothing jumps. */
function useLastGood(figures: QuoteFigures | undefined): QuoteFigures | undefined {
  const last = useRef(figures)
  if (figures) last.current = figures
  return last.current
}

export function Notices({ sentences }: { readonly sentences: readonly string[] }) {
  if (sentences.length === 0) return null
  return (
    <ul className={css.notices} aria-label="To know before sending">
      {sentences.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  )
}

function Sums(props: {
  readonly figures: QuoteFigures
  readonly answer: QuoteAnswer
  readonly depositPpm: number
  readonly people: TypedQuote['people']
}) {
  const { figures } = props
  const { basis } = props.answer
  return (
    <>
      <ClientSums figures={figures} depositPpm={props.depositPpm} currency={basis.currency} />
      <StudioSide
        currency={basis.currency}
        framesShot={figures.framesShot}
        own={{
          people: props.people,
          workMedianMs: figures.work.medianMs,
          benchMeanMs: figures.bench.meanMs,
          benchMedianMs: figures.bench.medianMs,
          benchP80Ms: figures.bench.p80Ms,
          deskMs: figures.desk.totalMs,
          stepMs: basis.pace.stepMs,
          stepFromTakes: basis.paceFrom.takes,
          paceFrom: basis.paceFrom,
          netMinor: figures.netMinor,
          cost: figures.cost,
        }}
      />
    </>
  )
}

interface PartProps {
  readonly typed: TypedQuote
  readonly patch: (values: Partial<TypedQuote>) => void
}

function AtTheBench({ typed, patch }: PartProps) {
  return (
    <Part title="At the bench">
      <PeopleField people={typed.people} onChange={(people) => patch({ people })} />
    </Part>
  )
}

function PriceTerms(
  props: PartProps & { readonly answer: QuoteAnswer; readonly figures: QuoteFigures | undefined },
) {
  const { typed, answer, patch } = props
  const { basis } = answer
  const toRate = (id: string) => {
    const before = typed.taxRateId
    const taxRateId = Number(id)
    // Lines typed by hand follow, unless they were given a rate of their own.
    const follow = (lines: TypedQuote['fees']) =>
      lines.map((line) => (line.taxRateId === before ? { ...line, taxRateId } : line))
    patch({ taxRateId, byHand: typed.byHand && follow(typed.byHand), fees: follow(typed.fees) })
  }
  return (
    <Part title="Terms of the price">
      <SoldByFields typed={typed} patch={patch} basis={basis} figures={props.figures} />
      <FieldLine>
        <NumberField
          label="Discount"
          name="discountPpm"
          unit="%"
          places={4}
          value={typed.discountPpm}
          onChange={(discountPpm) => patch({ discountPpm })}
        />
        <NumberField
          label="Deposit"
          name="depositPpm"
          unit="%"
          places={4}
          value={typed.depositPpm}
          onChange={(depositPpm) => patch({ depositPpm })}
        />
        <SelectField
          label="Tax"
          name="taxRateId"
          width="narrow"
          value={String(typed.taxRateId)}
          options={basis.taxRates.map(({ id, name }) => ({ value: String(id), label: name }))}
          onChange={toRate}
        />
        <DateField
          label="Delivery by"
          name="dueDay"
          width="narrow"
          value={typed.dueDay}
          onChange={(dueDay) => patch({ dueDay })}
        />
      </FieldLine>
      <CheckField
        label={
          basis.rushPpm === 0
            ? 'A rush job (no surcharge is set under Studio)'
            : `A rush job: ${basis.rushPpm / 10_000} % on top`
        }
        checked={typed.isRush}
        onChange={(isRush) => patch({ isRush })}
      />
    </Part>
  )
}

function PaperWords({ typed, patch }: PartProps) {
  return (
    <Part title="Words on the paper">
      <TextArea
        label="What this quote assumes"
        name="assumptions"
        hint="For example: products arrive clean, and by the agreed day."
        rows={2}
        value={typed.assumptions}
        onChange={(assumptions) => patch({ assumptions })}
      />
      <TextArea
        label="Terms"
        name="terms"
        rows={3}
        value={typed.terms}
        onChange={(terms) => patch({ terms })}
      />
    </Part>
  )
}

function Discard(props: {
  readonly quoteId: number
  readonly name: string
  readonly onDone: () => void
  readonly onClose: () => void
}) {
  const say = useNotice()
  const act = useAct(
    () => api.quotes.discard.mutate({ quoteId: props.quoteId }),
    () => {
      props.onDone()
      say('The draft is thrown away.')
      props.onClose()
    },
  )
  return (
    <Confirm
      title="Throw the draft away?"
      sentence={`The draft ${props.name} is deleted with everything typed into it. Versions that were sent stay.`}
      act="Throw the draft away"
      grave
      busy={act.busy}
      refusal={act.refusal}
      onConfirm={() => act.run()}
      onClose={props.onClose}
    />
  )
}
