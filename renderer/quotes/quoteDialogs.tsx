import { addDays } from 'date-fns/addDays'
import { formatISO } from 'date-fns/formatISO'
import { parseISO } from 'date-fns/parseISO'
import { useState } from 'react'
import { framesText } from '../../main/trade/turn/rows.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Confirm, Dialog } from '../parts/dialog.tsx'
import { CheckField, DateField, SelectField, TextField } from '../parts/field.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { dayText, moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './quotes.module.css'
import type { QuoteOfJob } from './quoteValue.ts'
import { wayWords } from './stateWords.ts'

/** Freezes a draft and writes its paper; keeps what was typed first. */
export function SendQuote(props: {
  readonly save: () => Promise<{ readonly quoteId: number }>
  /** The kept draft's id, where nothing was typed since. */
  readonly kept: number | undefined
  readonly totalMinor: number
  /** How many ways go out together. */
  readonly ways: number
  readonly currency: string
  readonly validDays: number
  readonly onSent: () => void
  readonly onClose: () => void
}) {
  const { today } = useStudio()
  const say = useNotice()
  const [validUntil, setValidUntil] = useState(() =>
    formatISO(addDays(parseISO(today), props.validDays), { representation: 'date' }),
  )
  const lacking = useAsk(
    ['quotes', 'letters', props.kept],
    () => api.quotes.lettersLacking.query({ quoteId: props.kept ?? 0 }),
    { when: props.kept !== undefined },
  )
  const act = useAct(
    async () => {
      const { quoteId } = await props.save()
      return await api.quotes.send.mutate({ quoteId, validUntil: validUntil || null })
    },
    ({ name }) => {
      props.onSent()
      say(`Quote ${name} is frozen and its paper is written.`)
      props.onClose()
    },
  )
  return (
    <Dialog title="Send the quote" onClose={props.onClose}>
      <Form onSubmit={() => act.run()} refusal={act.refusal}>
        <p>
          {`${
            props.ways > 1
              ? `The quote is frozen as it stands, all ${props.ways} ways of it, and one paper with all of them`
              : `The quote of ${moneyText(props.totalMinor, props.currency)} is frozen as it stands and its paper`
          } is written as a PDF, for you to hand to the client. Changes from then on are a new version.`}
        </p>
        <DateField
          label="Valid until"
          name="validUntil"
          min={today}
          value={validUntil}
          onChange={setValidUntil}
        />
        {lacking.data && lacking.data.length > 0 ? (
          <p className={css.note}>
            {`The paper’s typeface lacks ${lacking.data.join(' ')}; a question mark is printed there. Write those words in other letters.`}
          </p>
        ) : null}
        <ButtonRow>
          <Button type="submit" kind="main" busy={act.busy}>
            Freeze and write the paper
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

interface AnswerProps {
  readonly of: QuoteOfJob
  readonly onClose: () => void
}

/** The client's yes: to which way, who, when, under which order number. */
export function AcceptQuote({ of, ways, onClose }: AnswerProps & { readonly ways: readonly QuoteOfJob[] }) {
  const { today } = useStudio()
  const say = useNotice()
  const [orderNumber, setOrderNumber] = useState('')
  const [day, setDay] = useState(today)
  const [by, setBy] = useState('')
  const [quoteId, setQuoteId] = useState(of.quote.id)
  const act = useAct(
    (afterValidity: boolean) =>
      api.quotes.accept.mutate({
        quoteId,
        orderNumber: orderNumber || null,
        day,
        by,
        afterValidity,
      }),
    () => {
      say(`Quote ${of.name} is accepted. Its spins have the turn that was quoted.`)
      onClose()
    },
  )
  const isLate = act.refusal?.code === 'no-longer-valid'
  return (
    <Dialog title={`Quote ${of.name} accepted`} onClose={onClose}>
      <Form onSubmit={() => act.run(isLate)} refusal={act.refusal}>
        {ways.length > 1 ? (
          <SelectField
            label="Which way"
            width="wide"
            value={String(quoteId)}
            options={ways.map(({ quote }) => ({
              value: String(quote.id),
              label: `${wayWords[quote.way]}, ${framesText(quote.rows)} frames a turn, ${moneyText(quote.totalMinor, quote.currency)}`,
            }))}
            onChange={(id) => setQuoteId(Number(id) as typeof quoteId)}
          />
        ) : null}
        <FieldLine>
          <TextField label="Who said yes" name="by" value={by} onChange={setBy} autoFocus required />
          <DateField label="On which day" name="day" max={today} value={day} onChange={setDay} />
        </FieldLine>
        <TextField
          label="The client’s order number"
          name="orderNumber"
          hint="Leave it empty where the client gives none."
          value={orderNumber}
          onChange={setOrderNumber}
        />
        <p className={css.note}>
          {`From here on the quote stays as it is; bill what changes by adding a line to the invoice’s draft. ${ways.length > 1 ? 'The other ways are replaced, and a' : 'A'} draft of another version is thrown away.`}
        </p>
        <ButtonRow>
          <Button type="submit" kind="main" busy={act.busy}>
            {isLate ? 'Accept it all the same' : 'Write down the yes'}
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** The client's no: why, at which price, and whether the job is lost with it. */
export function DeclineQuote({ of, onClose }: AnswerProps) {
  const say = useNotice()
  const [reason, setReason] = useState('')
  const [priceMinor, setPriceMinor] = useState<number | null>(null)
  const [isLost, setLost] = useState(false)
  const act = useAct(
    () => api.quotes.decline.mutate({ quoteId: of.quote.id, reason, priceMinor, isLost }),
    () => {
      say(isLost ? 'The job is written down as lost.' : `Quote ${of.name} is declined.`)
      onClose()
    },
  )
  return (
    <Dialog title={`Quote ${of.name} declined`} onClose={onClose}>
      <Form onSubmit={() => act.run()} refusal={act.refusal}>
        <TextField
          label="Why"
          name="reason"
          value={reason}
          onChange={setReason}
          autoFocus
          width="wide"
          required
        />
        <MoneyField
          label="The price they wanted or went with"
          name="priceMinor"
          width="normal"
          hint="Where it is known; so that you learn what the market pays."
          currency={of.quote.currency}
          value={priceMinor}
          onChange={setPriceMinor}
        />
        <CheckField
          label="The job is lost with it"
          hint="Otherwise it stays open for another version."
          checked={isLost}
          onChange={setLost}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={act.busy}>
            Write down the no
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** A quote whose last day is over, without an answer. */
export function LapseQuote({ of, onClose }: AnswerProps) {
  const { today } = useStudio()
  const say = useNotice()
  const act = useAct(
    () => api.quotes.lapse.mutate({ quoteId: of.quote.id }),
    () => {
      say(`Quote ${of.name} has lapsed.`)
      onClose()
    },
  )
  const until = of.quote.validUntil
  return (
    <Confirm
      title={`Let quote ${of.name} lapse?`}
      sentence={`It was valid until ${until === null ? 'no day' : dayText(until, today)}, and no answer came. It stays in the job; a new version can follow.`}
      act="Let it lapse"
      busy={act.busy}
      refusal={act.refusal}
      onConfirm={() => act.run()}
      onClose={onClose}
    />
  )
}
