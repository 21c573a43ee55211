import { useState } from 'react'
import { useNavigate } from 'react-router'
import { addDays } from '../../main/trade/calendar.ts'
import type { CallAsk } from '../../main/trade/callQuote.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { DateField, SelectField, TextField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'

/** A week is what most callers are given. Common practice, no published source. */
const callBackDays = 7

/** Keeps the call as an enquiry in one press: for a client that is known, or for a new one by its name. */
export function KeepCall(props: {
  /** What the call is about and what was told; none while there is no answer yet. */
  readonly call: { readonly ask: CallAsk; readonly title: string; readonly told: string } | undefined
  readonly clientId: string
  readonly onClient: (clientId: string) => void
  readonly onKept: () => void
}) {
  const { call, clientId } = props
  const { today } = useStudio()
  const say = useNotice()
  const navigate = useNavigate()
  const clients = useAsk(['clients', 'names'], () => api.clients.names.query())
  const [name, setName] = useState('')
  const [phone, setPhone] = useState('')
  const [callBackDay, setCallBackDay] = useState(() => addDays(today, callBackDays))
  const keep = useAct(
    (about: NonNullable<typeof call>) =>
      api.calls.keep.mutate({
        clientId: clientId === '' ? null : Number(clientId),
        name: clientId === '' ? name || null : null,
        phone: phone || null,
        ask: { ...about.ask, kinds: [...about.ask.kinds] },
        title: about.title,
        told: about.told,
        callBackDay,
      }),
    ({ jobId, number }) => {
      say(`The call is kept as ${number}. Call back on the day you named.`)
      props.onKept()
      void navigate(`/jobs/${jobId}`)
    },
  )
  return (
    <Part title="Keep it as an enquiry">
      <Form onSubmit={() => call && keep.run(call)} refusal={keep.refusal} label="Keep the call">
        <FieldLine>
          <SelectField
            label="Client"
            name="clientId"
            empty="A new client"
            value={clientId}
            options={(clients.data ?? []).map(({ id, name: known }) => ({ value: String(id), label: known }))}
            onChange={props.onClient}
          />
          {clientId === '' ? (
            <>
              <TextField label="Name of the new client" name="name" value={name} onChange={setName} />
              <TextField
                label="Phone"
                name="phone"
                type="tel"
                width="narrow"
                value={phone}
                onChange={setPhone}
              />
            </>
          ) : null}
          <DateField
            label="Call back on"
            name="callBackDay"
            width="narrow"
            min={today}
            value={callBackDay}
            onChange={setCallBackDay}
          />
        </FieldLine>
        <ButtonRow>
          <Button type="submit" kind="main" busy={keep.busy} disabled={!call}>
            Keep as an enquiry
          </Button>
        </ButtonRow>
      </Form>
    </Part>
  )
}
