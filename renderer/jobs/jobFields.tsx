import { DateField, SelectField, TextArea, TextField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine } from '../parts/form.tsx'
import { api, useAsk } from '../shell/api.ts'
import type { DueBy, JobValue } from './jobValue.ts'

const dueWays: readonly { readonly value: DueBy; readonly label: string }[] = [
  { value: 'day', label: 'on a day' },
  { value: 'promise', label: 'some working days after the last sample' },
  { value: 'open', label: 'not agreed yet' },
]

/** What is agreed about a job; put it inside a `Form`. */
export function JobFields(props: {
  readonly value: JobValue
  readonly onChange: (some: Partial<JobValue>) => void
}) {
  const { value, onChange } = props
  const set = <K extends keyof JobValue>(key: K) => {
    return (next: JobValue[K]) => onChange({ [key]: next } as Partial<JobValue>)
  }
  const clientId = Number(value.clientId)
  const client = useAsk(['clients', 'one', clientId], () => api.clients.one.query({ clientId }), {
    when: value.clientId !== '',
  }).data?.client
  const needed = (is: boolean | undefined) =>
    is && client ? `${client.name} needs it on every invoice.` : undefined
  return (
    <>
      <FieldLine>
        <TextField
          label="What the job is called"
          name="title"
          placeholder="Spring range"
          value={value.title}
          onChange={set('title')}
        />
        <ContactField {...props} />
      </FieldLine>
      <FieldLine>
        <SelectField label="Due" value={value.dueBy} options={dueWays} onChange={set('dueBy')} />
        {value.dueBy === 'day' ? (
          <DateField label="Due day" name="dueDay" value={value.dueDay} onChange={set('dueDay')} />
        ) : null}
        {value.dueBy === 'promise' ? (
          <NumberField
            label="Promised within"
            name="promiseWorkingDays"
            unit="working days"
            value={value.promiseWorkingDays}
            onChange={set('promiseWorkingDays')}
          />
        ) : null}
      </FieldLine>
      <FieldGroup legend="The client’s references">
        <FieldLine>
          <TextField
            label="Order number"
            name="orderNumber"
            hint={needed(client?.orderNumberNeeded)}
            value={value.orderNumber}
            onChange={set('orderNumber')}
          />
          <TextField
            label="Their reference"
            name="buyerReference"
            hint={needed(client?.referenceNeeded)}
            value={value.buyerReference}
            onChange={set('buyerReference')}
          />
          <TextField
            label="Cost centre"
            name="costCentre"
            hint={needed(client?.costCentreNeeded)}
            value={value.costCentre}
            onChange={set('costCentre')}
          />
        </FieldLine>
      </FieldGroup>
      <FieldGroup legend="Days and rounds">
        <FieldLine>
          <DateField
            label="Enquired on"
            name="enquiredDay"
            value={value.enquiredDay}
            onChange={set('enquiredDay')}
          />
          <DateField
            label="Call back on"
            name="callBackDay"
            value={value.callBackDay}
            onChange={set('callBackDay')}
          />
          <DateField
            label="Samples due back"
            name="returnByDay"
            value={value.returnByDay}
            onChange={set('returnByDay')}
          />
          <NumberField
            label="Rounds of changes included"
            name="roundsIncluded"
            hint="Empty: as the studio does."
            value={value.roundsIncluded}
            onChange={set('roundsIncluded')}
          />
        </FieldLine>
        <TextArea label="Note" name="note" value={value.note} onChange={set('note')} />
      </FieldGroup>
    </>
  )
}

function ContactField(props: {
  readonly value: JobValue
  readonly onChange: (some: Partial<JobValue>) => void
}) {
  const { value, onChange } = props
  const clientId = Number(value.clientId)
  const client = useAsk(['clients', 'one', clientId], () => api.clients.one.query({ clientId }), {
    when: value.clientId !== '',
  })
  const contacts = value.clientId === '' ? [] : (client.data?.contacts ?? [])
  return (
    <SelectField
      label="Contact"
      name="contactId"
      empty="Nobody named"
      disabled={contacts.length === 0}
      value={value.contactId}
      options={contacts.map(({ id, name }) => ({ value: String(id), label: name }))}
      onChange={(contactId) => onChange({ contactId })}
    />
  )
}
