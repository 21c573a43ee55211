import { useMemo } from 'react'
import { spokenLanguages } from '../../main/trade/benchVoice.ts'
import { Asked } from '../parts/asked.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField, TextField } from '../parts/field.tsx'
import { FieldGroup, FieldLine } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { countryChoices, timeZoneChoices } from '../start/places.ts'
import { Logo } from './logo.tsx'
import css from './screen.module.css'
import { SettingsForm } from './settingsForm.tsx'
import type { StudioRow } from './studioRow.ts'

/** Who the studio is: what stands at the head and foot of its papers. */
export function NameSection() {
  const one = useAsk(['studio', 'one'], () => api.studio.one.query())
  return (
    <Part title="Name and address">
      <Asked of={one}>{({ studio }) => <NameForm studio={studio} />}</Asked>
      <Logo />
    </Part>
  )
}

function NameForm({ studio }: { readonly studio: StudioRow }) {
  const draft = useDraft({
    name: studio.name,
    legalName: studio.legalName ?? '',
    street: studio.street ?? '',
    postalCode: studio.postalCode ?? '',
    city: studio.city ?? '',
    region: studio.region ?? '',
    country: studio.country,
    email: studio.email ?? '',
    phone: studio.phone ?? '',
    taxNumber: studio.taxNumber ?? '',
    companyNumber: studio.companyNumber ?? '',
    iban: studio.iban ?? '',
    bic: studio.bic ?? '',
    timeZone: studio.timeZone,
    locale: studio.locale,
    paper: studio.paper,
  })
  const { values, set } = draft
  const say = useNotice()
  const save = useAct(
    () => api.studio.change.mutate(values),
    () => {
      draft.reset(values)
      say('Saved. Papers written from now on show it; those already sent keep what stood on them.')
    },
  )
  const countries = useMemo(countryChoices, [])
  const zones = useMemo(timeZoneChoices, [])
  return (
    <SettingsForm
      label="Name and address"
      touched={draft.touched}
      busy={save.busy}
      refusal={save.refusal}
      onSave={save.run}
    >
      <p className={css.note}>
        This stands on quotes and invoices. What an invoice must show differs by country: ask your accountant
        before you send the first one.
      </p>
      <FieldLine>
        <TextField label="Name" name="name" value={values.name} onChange={set('name')} />
        <TextField
          label="Name in law"
          name="legalName"
          hint="Where invoices must show another name than the one above."
          value={values.legalName}
          onChange={set('legalName')}
        />
      </FieldLine>
      <FieldGroup legend="Address">
        <TextField label="Street and number" name="street" value={values.street} onChange={set('street')} />
        <FieldLine>
          <TextField
            label="Postal code"
            name="postalCode"
            width="narrow"
            value={values.postalCode}
            onChange={set('postalCode')}
          />
          <TextField label="Town" name="city" value={values.city} onChange={set('city')} />
        </FieldLine>
        <FieldLine>
          <TextField label="Region" name="region" value={values.region} onChange={set('region')} />
          <SelectField
            label="Country"
            name="country"
            value={values.country}
            options={countries}
            onChange={set('country')}
          />
        </FieldLine>
        <FieldLine>
          <TextField label="E-mail" name="email" type="email" value={values.email} onChange={set('email')} />
          <TextField label="Telephone" name="phone" type="tel" value={values.phone} onChange={set('phone')} />
        </FieldLine>
      </FieldGroup>
      <FieldGroup legend="Numbers on invoices">
        <FieldLine>
          <TextField
            label="Tax number"
            name="taxNumber"
            value={values.taxNumber}
            onChange={set('taxNumber')}
          />
          <TextField
            label="Company number"
            name="companyNumber"
            value={values.companyNumber}
            onChange={set('companyNumber')}
          />
        </FieldLine>
        <FieldLine>
          <TextField
            label="IBAN"
            name="iban"
            hint="Where clients pay to. Its check digits are tried when you save."
            value={values.iban}
            onChange={set('iban')}
          />
          <TextField label="BIC" name="bic" width="narrow" value={values.bic} onChange={set('bic')} />
        </FieldLine>
      </FieldGroup>
      <FieldGroup legend="Day, paper and writing">
        <FieldLine>
          <SelectField
            label="Time zone"
            name="timeZone"
            hint="Days, opening hours and ‘late’ are reckoned in it."
            value={values.timeZone}
            options={zones.choices}
            onChange={set('timeZone')}
          />
          <SelectField
            label="Language of the studio"
            name="locale"
            hint="The bench speaks it, and a client taken down on a call gets papers in it where there are any. Other papers follow their client."
            value={values.locale}
            options={localeChoices(studio.locale, values.country)}
            onChange={set('locale')}
          />
          <SelectField
            label="Paper"
            name="paper"
            width="narrow"
            value={values.paper}
            options={[
              { value: 'A4', label: 'A4' },
              { value: 'Letter', label: 'Letter' },
            ]}
            onChange={set('paper')}
          />
        </FieldLine>
      </FieldGroup>
    </SettingsForm>
  )
}

/** Papers are written in English, so that the choice is between English ways of writing an amount. */
function localeChoices(kept: string, country: string) {
  const ways = new Set([
    kept,
    ...spokenLanguages.map((language) => `${language}-${country}`),
    'en-GB',
    'en-US',
  ])
  const names = new Intl.DisplayNames('en', { type: 'language' })
  return [...ways].map((value) => ({ value, label: names.of(value) ?? value }))
}
