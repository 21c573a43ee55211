import { useMemo } from 'react'
import type { Asks } from '../../main/api/types.ts'
import { currencyCodes } from '../../main/trade/currency.ts'
import { Button } from '../parts/button.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField, TextField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form, FormRefusal } from '../parts/form.tsx'
import { Page } from '../parts/page.tsx'
import { api, useAct } from '../shell/api.ts'
import { countryChoices, currencyChoices, likelyCountry, timeZoneChoices } from './places.ts'
import css from './screen.module.css'

/** The first start: a studio of one's own, or the demo studio to look round in. */
export function Screen() {
  return (
    <Page title="Begin" lead="Turnsheet keeps one studio at a time, in a folder on this machine.">
      <div className={css.start}>
        <section className={css.half} aria-label="New studio">
          <h2>New studio</h2>
          <NewStudio />
        </section>
        <section className={css.half} aria-label="Demo studio">
          <h2>Demo studio</h2>
          <Demo />
        </section>
      </div>
    </Page>
  )
}

function NewStudio() {
  const zones = useMemo(timeZoneChoices, [])
  const countries = useMemo(countryChoices, [])
  const currencies = useMemo(() => currencyChoices(currencyCodes), [])
  const draft = useDraft({
    name: '',
    personName: '',
    country: likelyCountry(navigator.language),
    currency: '',
    timeZone: zones.own,
    taxName: 'VAT',
    taxRatePpm: null as number | null,
  })
  const { values, set } = draft
  const create = useAct(() =>
    api.start.createStudio.mutate({
      ...values,
      // Papers are written in English, with the country's way of writing numbers and dates.
      locale: `en-${values.country || 'GB'}`,
      // A rate left empty goes as null: the studio answers with the sentence for its field.
    } as Asks['start']['createStudio']),
  )
  return (
    <Form refusal={create.refusal} onSubmit={() => create.run()}>
      <TextField label="Name of the studio" name="name" value={values.name} onChange={set('name')} />
      <TextField label="Your name" name="personName" value={values.personName} onChange={set('personName')} />
      <SelectField
        label="Country"
        name="country"
        value={values.country}
        options={countries}
        onChange={set('country')}
      />
      <SelectField
        label="Currency of your prices"
        name="currency"
        value={values.currency}
        options={currencies}
        onChange={set('currency')}
      />
      <SelectField
        label="Time zone"
        name="timeZone"
        value={values.timeZone}
        options={zones.choices}
        onChange={set('timeZone')}
      />
      <FieldLine>
        <TextField
          label="Tax on your invoices"
          name="taxName"
          width="narrow"
          value={values.taxName}
          onChange={set('taxName')}
        />
        <NumberField
          label="Usual rate"
          name="taxRatePpm"
          unit="%"
          places={4}
          value={values.taxRatePpm}
          onChange={set('taxRatePpm')}
        />
      </FieldLine>
      <p>Ask your tax office or adviser which rate is yours; enter 0 where you charge none.</p>
      <Button type="submit" kind="main" busy={create.busy}>
        Make the studio
      </Button>
    </Form>
  )
}

function Demo() {
  const open = useAct(() => api.start.openDemo.mutate())
  return (
    <>
      <p>
        An invented studio in the middle of its work: clients, products, rigs, jobs at every station and two
        years of takes. Change whatever you like; your own studio is kept apart.
      </p>
      <Button busy={open.busy} onClick={() => open.run()}>
        Open the demo studio
      </Button>
      {open.refusal ? <FormRefusal sentence={open.refusal.sentence} /> : null}
    </>
  )
}
