import { useMemo } from 'react'
import { currencyCodes } from '../../main/trade/currency.ts'
import { Asked } from '../parts/asked.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField, TextArea } from '../parts/field.tsx'
import { MoneyField, NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { currencyChoices } from '../start/places.ts'
import css from './screen.module.css'
import { SettingsForm } from './settingsForm.tsx'
import type { StudioChange, StudioRow } from './studioRow.ts'

/** What the studio's hours cost, what it asks at least, and on what terms it works. */
export function MoneySection() {
  const one = useAsk(['studio', 'one'], () => api.studio.one.query())
  return (
    <Part title="Money and terms">
      <Asked of={one}>
        {({ studio, currencyFixedBy }) => <MoneyForm studio={studio} fixedBy={currencyFixedBy} />}
      </Asked>
    </Part>
  )
}

/** As typed: a figure is null while its field is empty or cannot be read. */
type Typed = {
  readonly [K in keyof typeof figures]: number | null
} & { readonly currency: string; readonly terms: string }

const figures = {
  quoteValidDays: 0,
  paymentDays: 0,
  depositPpm: 0,
  yesDays: 0,
  benchHourMinor: 0,
  deskHourMinor: 0,
  secondHourMinor: 0,
  halfDayMinor: 0,
  dayMinor: 0,
  minimumMinor: 0,
  rushPpm: 0,
  roundsIncluded: 0,
  lateInterestPpm: 0,
  lateFeeMinor: 0,
} as const

function typedOf(studio: StudioRow): Typed {
  const names = Object.keys(figures) as (keyof typeof figures)[]
  return {
    ...(Object.fromEntries(names.map((name) => [name, studio[name]])) as Record<
      keyof typeof figures,
      number
    >),
    currency: studio.currency,
    terms: studio.terms ?? '',
  }
}

function MoneyForm(props: { readonly studio: StudioRow; readonly fixedBy: string | null }) {
  const draft = useDraft<Typed>(typedOf(props.studio))
  const { values, set } = draft
  const say = useNotice()
  const save = useAct(
    // A figure left empty goes as null: the studio answers with the sentence for its field.
    () => api.studio.change.mutate(values as StudioChange),
    () => {
      draft.reset(values)
      say('Saved. Quotes made from now on follow it; those already sent stay as they are.')
    },
  )
  const currencies = useMemo(() => currencyChoices(currencyCodes), [])
  const money = (name: keyof typeof figures & `${string}Minor`, label: string, hint?: string) => (
    <MoneyField
      label={label}
      name={name}
      hint={hint}
      currency={values.currency}
      value={values[name]}
      onChange={set(name)}
    />
  )
  const days = (name: keyof typeof figures & `${string}Days`, label: string, hint?: string) => (
    <NumberField
      label={label}
      name={name}
      hint={hint}
      unit="days"
      value={values[name]}
      onChange={set(name)}
    />
  )
  const share = (name: keyof typeof figures & `${string}Ppm`, label: string, hint?: string) => (
    <NumberField
      label={label}
      name={name}
      hint={hint}
      unit="%"
      places={4}
      value={values[name]}
      onChange={set(name)}
    />
  )
  return (
    <SettingsForm
      label="Money and terms"
      touched={draft.touched}
      busy={save.busy}
      refusal={save.refusal}
      onSave={save.run}
    >
      <SelectField
        label="Currency of the studio"
        name="currency"
        disabled={props.fixedBy !== null}
        hint={
          props.fixedBy === null
            ? 'It cannot be changed once something is priced in it.'
            : `It stays: ${props.fixedBy} is kept in it. A client may have another currency.`
        }
        value={values.currency}
        options={currencies}
        onChange={set('currency')}
      />
      <FieldGroup legend="What an hour costs you">
        <p className={css.note}>
          Never on a paper: from these the quote works out its cost, its margin and the price under which it
          loses money.
        </p>
        <FieldLine>
          {money('benchHourMinor', 'An hour at the bench')}
          {money('deskHourMinor', 'An hour at the desk')}
          {money('secondHourMinor', 'A second person’s hour', 'Beside the hour at the bench.')}
        </FieldLine>
      </FieldGroup>
      <FieldGroup legend="What you ask">
        <FieldLine>
          {money('halfDayMinor', 'Half a day')}
          {money('dayMinor', 'A whole day')}
          {money('minimumMinor', 'At least, per order')}
          {share('rushPpm', 'More, for rush')}
        </FieldLine>
        <FieldLine>
          {share('depositPpm', 'Deposit', 'Of the quote; 0 where none is asked.')}
          <NumberField
            label="Rounds included"
            name="roundsIncluded"
            hint="Of changes a client may wish without paying."
            unit="rounds"
            value={values.roundsIncluded}
            onChange={set('roundsIncluded')}
          />
        </FieldLine>
      </FieldGroup>
      <FieldGroup legend="Days">
        <FieldLine>
          {days('quoteValidDays', 'A quote holds')}
          {days('yesDays', 'A client’s yes within')}
          {days('paymentDays', 'Payment within', 'Unless the client has another.')}
        </FieldLine>
      </FieldGroup>
      <FieldGroup legend="Late payment">
        <p className={css.note}>
          Laws set what may be asked, and from when; they differ by country. Ask your accountant or lawyer.
        </p>
        <FieldLine>
          {share('lateInterestPpm', 'Interest, a year')}
          {money('lateFeeMinor', 'Fee')}
        </FieldLine>
      </FieldGroup>
      <TextArea
        label="Terms at the end of every quote"
        name="terms"
        rows={6}
        value={values.terms}
        onChange={set('terms')}
      />
    </SettingsForm>
  )
}
