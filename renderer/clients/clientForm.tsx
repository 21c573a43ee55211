import { useMemo } from 'react'
import { useNavigate, useParams } from 'react-router'
import { currencyCodes } from '../../main/trade/currency.ts'
import { BriefForm } from '../briefs/briefForm.tsx'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { useDraft } from '../parts/draft.ts'
import { CheckField, SelectField, TextArea, TextField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine, Form } from '../parts/form.tsx'
import { LeaveGuard, saved } from '../parts/leaveGuard.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Columns, Page } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { countryChoices, currencyChoices } from '../start/places.ts'
import { type ClientValue, clientValueOf, newClientValue, sentClient } from './clientValue.ts'
import { ContactsFields } from './contactsFields.tsx'

/** The form for a new client. */
export function NewClient() {
  const { currency } = useStudio()
  const brief = useAsk(['clients', 'plainBrief'], () => api.clients.plainBrief.query())
  const studio = useAsk(['studio', 'one'], () => api.studio.one.query())
  return (
    <Asked of={brief}>
      {(plain) => (
        <Asked of={studio}>
          {({ studio: { country } }) => (
            <ClientForm
              title="Add a client"
              start={newClientValue(country, currency, plain)}
              save={async (value) => (await api.clients.add.mutate(sentClient(value))).clientId}
              act="Add the client"
              leave="/clients"
            />
          )}
        </Asked>
      )}
    </Asked>
  )
}

/** The same form for a client that is kept already. */
export function ChangeClient() {
  const clientId = Number(useParams().clientId)
  const answer = useAsk(['clients', 'one', clientId], () => api.clients.one.query({ clientId }))
  return (
    <Asked of={answer} isPage>
      {(whole) => (
        <ClientForm
          key={clientId}
          title={`Change ${whole.client.name}`}
          start={clientValueOf(whole)}
          save={async (value) => {
            await api.clients.change.mutate({ ...sentClient(value), clientId })
            return clientId
          }}
          act="Save the client"
          leave={`/clients/${clientId}`}
        />
      )}
    </Asked>
  )
}

function ClientForm(props: {
  readonly title: string
  readonly start: ClientValue
  readonly save: (value: ClientValue) => Promise<number>
  readonly act: string
  readonly leave: string
}) {
  const navigate = useNavigate()
  const say = useNotice()
  const draft = useDraft(props.start)
  const { values, set } = draft
  const save = useAct(
    () => props.save(values),
    (clientId) => {
      say(`${values.client.name.trim()} is kept.`)
      void navigate(`/clients/${clientId}`, { state: saved })
    },
  )
  return (
    <Page title={props.title}>
      <LeaveGuard when={draft.touched} />
      <Form refusal={save.refusal} onSubmit={() => save.run()}>
        <Columns>
          <AddressFields client={values.client} onChange={set('client')} />
          <TermsFields client={values.client} onChange={set('client')} />
        </Columns>
        <FieldGroup legend="People">
          <ContactsFields contacts={values.contacts} onChange={set('contacts')} />
        </FieldGroup>
        <h2>Standing brief</h2>
        <p>What this client always wants. Each new job starts from it; jobs already begun keep their own.</p>
        <BriefForm value={values.brief} onChange={set('brief')} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            {props.act}
          </Button>
          <ButtonLink to={props.leave}>Leave it</ButtonLink>
        </ButtonRow>
      </Form>
    </Page>
  )
}

interface FieldsProps {
  readonly client: ClientValue['client']
  readonly onChange: (client: ClientValue['client']) => void
}

function setterOf({ client, onChange }: FieldsProps) {
  return <K extends keyof ClientValue['client']>(key: K) =>
    (value: ClientValue['client'][K]) =>
      onChange({ ...client, [key]: value })
}

function AddressFields(props: FieldsProps) {
  const { client } = props
  const set = setterOf(props)
  const countries = useMemo(countryChoices, [])
  return (
    <FieldGroup legend="Name and address">
      <TextField label="Name" name="client.name" value={client.name} onChange={set('name')} />
      <TextField
        label="Trade"
        name="client.trade"
        hint="What it makes or sells: lamps, shoes, glass."
        value={client.trade ?? ''}
        onChange={set('trade')}
      />
      <TextField
        label="Street and number"
        name="client.street"
        value={client.street ?? ''}
        onChange={set('street')}
      />
      <FieldLine>
        <TextField
          label="Postal code"
          name="client.postalCode"
          width="narrow"
          value={client.postalCode ?? ''}
          onChange={set('postalCode')}
        />
        <TextField label="Town" name="client.city" value={client.city ?? ''} onChange={set('city')} />
      </FieldLine>
      <TextField
        label="Region or state"
        name="client.region"
        value={client.region ?? ''}
        onChange={set('region')}
      />
      <SelectField
        label="Country"
        name="client.country"
        value={client.country}
        options={countries}
        onChange={set('country')}
      />
      <TextArea label="Note" name="client.note" value={client.note ?? ''} onChange={set('note')} />
    </FieldGroup>
  )
}

function TermsFields(props: FieldsProps) {
  const { client } = props
  const set = setterOf(props)
  const currencies = useMemo(() => currencyChoices(currencyCodes), [])
  const rates = useAsk(['taxRates'], () => api.taxRates.list.query())
  const lists = useAsk(['prices', 'list'], () => api.prices.list.query())
  const idField = (value: string) => (value === '' ? null : Number(value))
  return (
    <FieldGroup legend="Terms">
      <SelectField
        label="Currency of its papers"
        name="client.currency"
        value={client.currency}
        options={currencies}
        onChange={set('currency')}
      />
      <SelectField
        label="Tax"
        name="client.taxRateId"
        empty="As the studio"
        value={client.taxRateId === null ? '' : String(client.taxRateId)}
        options={(rates.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
        onChange={(value) => set('taxRateId')(idField(value))}
      />
      <TextField
        label="Its tax number"
        name="client.taxNumber"
        value={client.taxNumber ?? ''}
        onChange={set('taxNumber')}
      />
      <NumberField
        label="Pays within"
        name="client.paymentDays"
        unit="days"
        hint="Empty: as the studio."
        value={client.paymentDays}
        onChange={set('paymentDays')}
      />
      <SelectField
        label="Price list"
        name="client.priceListId"
        empty="The standard one"
        value={client.priceListId === null ? '' : String(client.priceListId)}
        options={(lists.data ?? [])
          .filter(({ currency }) => currency === client.currency)
          .map(({ id, name }) => ({ value: String(id), label: name }))}
        onChange={(value) => set('priceListId')(idField(value))}
      />
      <SelectField
        label="Papers in"
        name="client.language"
        value={client.language}
        options={[
          { value: 'en', label: 'English' },
          { value: 'de', label: 'German' },
        ]}
        onChange={set('language')}
      />
      <CheckField
        label="Work needs its order number"
        name="client.orderNumberNeeded"
        checked={client.orderNumberNeeded}
        onChange={set('orderNumberNeeded')}
      />
      <CheckField
        label="Invoices need its reference"
        name="client.referenceNeeded"
        checked={client.referenceNeeded}
        onChange={set('referenceNeeded')}
      />
      <CheckField
        label="Invoices need its cost centre"
        name="client.costCentreNeeded"
        checked={client.costCentreNeeded}
        onChange={set('costCentreNeeded')}
      />
      <CheckField
        label="One invoice a month over all its jobs"
        name="client.billsMonthly"
        checked={client.billsMonthly}
        onChange={set('billsMonthly')}
      />
      <CheckField
        label="Files go out only after payment"
        name="client.filesAfterPayment"
        checked={client.filesAfterPayment}
        onChange={set('filesAfterPayment')}
      />
    </FieldGroup>
  )
}
