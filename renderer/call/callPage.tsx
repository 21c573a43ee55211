import { type RefObject, useDeferredValue, useEffect, useMemo, useRef, useState } from 'react'
import type { CallAnswer, CallAsk } from '../../main/trade/callQuote.ts'
import { daysText } from '../../main/trade/dayLines.ts'
import { fromTakes } from '../../main/trade/paceFrom.ts'
import words from '../look/words.module.css'
import { useDraft } from '../parts/draft.ts'
import { CheckField, SelectField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine } from '../parts/form.tsx'
import { dayText, durationText, moneyText, weekdayText } from '../parts/format.ts'
import { Columns, Empty, Page, Part } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './call.module.css'
import { answerTo, askOf, askTitle, type CallBasis, noCall, type TypedCall } from './callValue.ts'
import { KeepCall } from './keepCall.tsx'

/** A call answered in ten seconds: four answers from the caller, and price, floor and the next free bench day stand there. */
export function CallPage() {
  const form = useDraft<TypedCall>(noCall)
  const [clientId, setClientId] = useState('')
  const id = clientId === '' ? null : Number(clientId)
  const { data, refusal } = useAsk(['calls', 'basis', id], () => api.calls.basis.query({ clientId: id }))
  const typed = useDeferredValue(form.values)
  const ask = useMemo(() => askOf(typed), [typed])
  const answer = useMemo(() => (data ? answerTo(data, ask) : undefined), [data, ask])
  const told = useTold(answer, data, ask)
  const fields = useFirstFocus()
  return (
    <Page title="A call" lead="What would it cost, and when could it be done?">
      {refusal ? <Empty sentence={refusal.sentence} /> : null}
      <Columns aside>
        <div className={css.main} ref={fields}>
          <CallFields typed={form.values} patch={form.patch} basis={data} />
          <KeepCall
            call={told && ask ? { ask, title: told.title, told: told.text } : undefined}
            clientId={clientId}
            onClient={setClientId}
            onKept={() => {
              form.reset(noCall)
              setClientId('')
            }}
          />
        </div>
        <aside className={css.answer} aria-label="The answer" aria-live="polite">
          {typeof answer === 'string' ? <p className={css.wrong}>{answer}</p> : null}
          {answer === undefined ? (
            <p className={css.note}>Enter how many products it is about, and the answer stands here.</p>
          ) : null}
          {answer && typeof answer !== 'string' && data && ask ? (
            <Answer answer={answer} basis={data} ask={ask} />
          ) : null}
        </aside>
      </Columns>
    </Page>
  )
}

/** The caller waits: the first field has the keys at once. After the page itself, which a new address gives them to. */
function useFirstFocus(): RefObject<HTMLDivElement | null> {
  const place = useRef<HTMLDivElement>(null)
  useEffect(() => {
    const frame = requestAnimationFrame(() => place.current?.querySelector('input')?.focus())
    return () => cancelAnimationFrame(frame)
  }, [])
  return place
}

function CallFields(props: {
  readonly typed: TypedCall
  readonly patch: (values: Partial<TypedCall>) => void
  readonly basis: CallBasis | undefined
}) {
  const { typed, patch } = props
  const finishes = props.basis?.basis.finishClasses ?? []
  return (
    <Part title="What the caller wants">
      <FieldLine>
        <NumberField
          label="How many products"
          name="spins"
          value={typed.spins}
          onChange={(spins) => patch({ spins })}
        />
        <SelectField
          label="How large"
          value={typed.sizeClass}
          options={[
            { value: 'small', label: 'Small' },
            { value: 'medium', label: 'Medium' },
            { value: 'large', label: 'Large' },
          ]}
          onChange={(sizeClass) => patch({ sizeClass: sizeClass as TypedCall['sizeClass'] })}
        />
        <SelectField
          label="Finished how far"
          empty="Not said yet"
          value={typed.finish}
          options={finishes.map(({ id, name }) => ({ value: String(id), label: name }))}
          onChange={(finish) => patch({ finish })}
        />
      </FieldLine>
      <FieldGroup legend="Delivered as">
        <FieldLine>
          <CheckField label="Loop video" checked={typed.loop} onChange={(loop) => patch({ loop })} />
          <CheckField
            label="Frame set"
            checked={typed.frameSet}
            onChange={(frameSet) => patch({ frameSet })}
          />
          <CheckField label="Stills" checked={typed.stills} onChange={(stills) => patch({ stills })} />
        </FieldLine>
      </FieldGroup>
    </Part>
  )
}

function Answer(props: { readonly answer: CallAnswer; readonly basis: CallBasis; readonly ask: CallAsk }) {
  const { answer, ask } = props
  const { today } = useStudio()
  const { currency, paceFrom } = props.basis.basis
  const money = (minor: number) => moneyText(minor, currency)
  const { low, high } = answer
  return (
    <>
      <section aria-label="The price">
        <p className={css.figure}>{range(low.perSpinMinor, high.perSpinMinor, money)}</p>
        <p>{`a spin before tax, ${range(low.netMinor, high.netMinor, money)} in all.`}</p>
        <p className={css.note}>
          {ask.spins === 1
            ? 'From a matt product to a mirror.'
            : 'From matt products of one family to mirrors that are each the first of theirs.'}
        </p>
      </section>
      {low.byDays && high.byDays ? (
        <section aria-label="By bench days">
          <p>
            {`By bench days ${range(low.byDays.netMinor, high.byDays.netMinor, money)} in all, for ${spanText(daysText(low.byDays.halfDays), daysText(high.byDays.halfDays))}.`}
          </p>
        </section>
      ) : null}
      <section aria-label="The floor">
        {low.floorMinor === null || high.floorMinor === null ? (
          <p className={css.note}>
            The studio’s hourly rates are in another currency than this client’s, so there is no floor to
            tell.
          </p>
        ) : (
          <>
            <p>
              {`Never under ${range(perSpin(low.floorMinor, ask), perSpin(high.floorMinor, ask), money)} a spin: that is the cost at the 80 % time.`}
            </p>
            {low.netMinor < low.floorMinor || high.netMinor < high.floorMinor ? (
              <p className={words.late}>
                {`The prices of the list do not cover it. Say ${money(perSpin(high.floorMinor, ask))} a spin or more, or call back.`}
              </p>
            ) : null}
          </>
        )}
      </section>
      <FreeBench answer={answer} />
      <p className={css.note}>{`Times: ${fromTakes(paceFrom, (day) => dayText(day, today))}.`}</p>
      {answer.notices.length > 0 ? (
        <ul className={css.notices} aria-label="To know before saying a price">
          {answer.notices.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      ) : null}
    </>
  )
}

/** Rounded up: a floor a spin that did not add up to the whole floor would be none. */
function perSpin(minor: number, ask: CallAsk): number {
  return Math.ceil(minor / ask.spins)
}

/** What the bench is asked: whole minutes, so that the question is not asked anew for every millisecond. */
function minuteUp(ms: number): number {
  return Math.ceil(ms / 60_000) * 60_000
}

function useFree(answer: CallAnswer) {
  const ask = { spinMs: minuteUp(answer.high.spinP80Ms), allMs: minuteUp(answer.high.benchP80Ms) }
  return useAsk(['calls', 'free', ask], () => api.calls.free.query(ask))
}

function FreeBench({ answer }: { readonly answer: CallAnswer }) {
  const { today } = useStudio()
  const { data } = useFree(answer)
  if (!data) return null
  return (
    <section aria-label="The next free bench day">
      {data.first ? (
        <>
          <p className={css.day}>{weekdayText(data.first.day, today)}</p>
          <p>
            {`is the next day with room for a spin: ${durationText(data.first.freeMs / 60_000)} at ${data.first.bench}.`}
          </p>
        </>
      ) : (
        <p>No bench has room for such a spin in the next 120 days. Look at the opening hours under Studio.</p>
      )}
      {data.first ? (
        <p className={css.note}>
          {`All of it takes ${durationText(answer.low.benchP80Ms / 60_000)} to ${durationText(answer.high.benchP80Ms / 60_000)} at the bench${data.allBy ? `, which fits by ${weekdayText(data.allBy.day, today)}` : ', more than is free in the next 120 days'}.`}
        </p>
      ) : null}
    </section>
  )
}

/** What is kept of the answer: the job's title, and what the caller was told. */
function useTold(
  answer: CallAnswer | string | undefined,
  data: CallBasis | undefined,
  ask: CallAsk | undefined,
): { readonly title: string; readonly text: string } | undefined {
  const { today } = useStudio()
  if (!answer || typeof answer === 'string' || !data || !ask) return undefined
  const { currency, finishClasses } = data.basis
  const money = (minor: number) => moneyText(minor, currency)
  const title = askTitle(ask, finishClasses.find(({ id }) => id === ask.finishClassId)?.name)
  const floor =
    answer.high.floorMinor === null ? '' : ` Floor ${money(perSpin(answer.high.floorMinor, ask))} a spin.`
  return {
    title,
    text: `On the phone on ${dayText(today)}: ${title}. Told ${range(answer.low.perSpinMinor, answer.high.perSpinMinor, money)} a spin before tax, ${range(answer.low.netMinor, answer.high.netMinor, money)} in all.${floor}`,
  }
}

function spanText(low: string, high: string): string {
  return low === high ? low : `${low} to ${high}`
}

function range(low: number, high: number, money: (minor: number) => string): string {
  return low === high ? money(low) : `${money(low)} to ${money(high)}`
}
