import { useState } from 'react'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { DateField, SelectField, TextArea } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import type { Item, JobAnswersData } from './itemWords.ts'

interface OverItems {
  readonly jobId: number
  readonly data: JobAnswersData
  readonly chosen: readonly Item[]
  readonly onClose: () => void
  /** After it was written: closes, and forgets what was chosen. */
  readonly done: () => void
}

/** Writes down that the client was shown the chosen picks, and by when an answer is asked. */
export function ShowDialog({ jobId, data, chosen, onClose, done }: OverItems) {
  const say = useNotice()
  const { today } = useStudio()
  const [contactId, setContactId] = useState(data.contacts.find(({ isMain }) => isMain)?.id)
  const [answerByDay, setDay] = useState(data.answerByDay)
  const [note, setNote] = useState('')
  const show = useAct(
    () =>
      api.answers.show.mutate({
        jobId,
        items: wanted(chosen),
        contactId: contactId ?? null,
        answerByDay: answerByDay || null,
        note,
      }),
    () => {
      say(`${countText(chosen.length, 'deliverable')} shown to the client.`)
      done()
    },
  )
  return (
    <Dialog title={`Show ${countText(chosen.length, 'deliverable')} to the client`} onClose={onClose}>
      <Form refusal={show.refusal} onSubmit={() => show.run()}>
        <FieldLine>
          <ContactField data={data} value={contactId} onChange={setContactId} />
          <DateField label="Answer by" name="answerByDay" value={answerByDay} onChange={setDay} min={today} />
        </FieldLine>
        <TextArea
          label="Note"
          name="note"
          value={note}
          onChange={setNote}
          rows={2}
          hint="How and where it was shown"
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={show.busy}>
            It is shown
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** Writes down the client's yes to what is chosen. */
export function YesDialog({ data, chosen, onClose, done }: OverItems) {
  const say = useNotice()
  const { today } = useStudio()
  const [contactId, setContactId] = useState(data.contacts.find(({ isMain }) => isMain)?.id)
  const [answeredDay, setDay] = useState(today)
  const [said, setSaid] = useState('')
  const yes = useAct(
    () =>
      api.answers.answer.mutate({
        verdict: 'yes',
        items: wanted(chosen),
        contactId: contactId ?? null,
        answeredDay: answeredDay || null,
        words: said,
      }),
    () => {
      say(`Yes to ${countText(chosen.length, 'deliverable')} written down.`)
      done()
    },
  )
  return (
    <Dialog title={`Yes to ${countText(chosen.length, 'deliverable')}`} onClose={onClose}>
      <Form refusal={yes.refusal} onSubmit={() => yes.run()}>
        <FieldLine>
          <ContactField data={data} value={contactId} onChange={setContactId} />
          <DateField label="Said on" name="answeredDay" value={answeredDay} onChange={setDay} max={today} />
        </FieldLine>
        <TextArea label="In the client’s words" name="words" value={said} onChange={setSaid} rows={2} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={yes.busy}>
            Write down the yes
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

type Needs = 'reshoot' | 'rework'
type Cause = 'ours' | "client's wish" | 'sample' | 'carrier'

const needsOptions = [
  { value: 'rework', label: 'a rework of the pictures' },
  { value: 'reshoot', label: 'a reshoot: turn it again' },
] as const

const causeOptions = [
  { value: 'ours', label: 'ours' },
  { value: "client's wish", label: 'the client’s wish' },
  { value: 'sample', label: 'the sample' },
  { value: 'carrier', label: 'the carrier' },
] as const

/** Writes down a change the client wants: what it needs, whose cause it is, and the client's words. */
export function ChangeDialog({ data, chosen, onClose, done }: OverItems) {
  const say = useNotice()
  const { today } = useStudio()
  const [contactId, setContactId] = useState(data.contacts.find(({ isMain }) => isMain)?.id)
  const [answeredDay, setDay] = useState(today)
  const [needs, setNeeds] = useState<Needs | ''>('')
  const [cause, setCause] = useState<Cause | ''>('')
  const [said, setSaid] = useState('')
  const [isUnfinished, setUnfinished] = useState(false)
  const change = useAct(
    (of: { readonly needs: Needs; readonly cause: Cause }) =>
      api.answers.answer.mutate({
        verdict: 'change',
        ...of,
        items: wanted(chosen),
        contactId: contactId ?? null,
        answeredDay: answeredDay || null,
        words: said,
      }),
    () => {
      say(needs === 'reshoot' ? 'The spins are open again.' : 'The change is written down.')
      done()
    },
  )
  return (
    <Dialog title={`A change of ${countText(chosen.length, 'deliverable')}`} onClose={onClose}>
      <Form
        refusal={change.refusal}
        onSubmit={() => {
          if (needs === '' || cause === '') setUnfinished(true)
          else change.run({ needs, cause })
        }}
      >
        <FieldLine>
          <SelectField
            label="It needs"
            name="needs"
            value={needs}
            options={needsOptions}
            onChange={setNeeds}
            refusal={isUnfinished && needs === '' ? 'Say whether it needs a reshoot or a rework.' : undefined}
          />
          <SelectField
            label="The cause"
            name="cause"
            value={cause}
            options={causeOptions}
            onChange={setCause}
            hint="It decides who pays."
            refusal={isUnfinished && cause === '' ? 'Say who or what caused it.' : undefined}
          />
        </FieldLine>
        <TextArea label="In the client’s words" name="words" value={said} onChange={setSaid} rows={2} />
        <FieldLine>
          <ContactField data={data} value={contactId} onChange={setContactId} />
          <DateField label="Said on" name="answeredDay" value={answeredDay} onChange={setDay} max={today} />
        </FieldLine>
        {needs === 'reshoot' ? (
          <p>The spins go back to the bench: every pick and yes of them is withdrawn.</p>
        ) : null}
        <ButtonRow>
          <Button type="submit" kind="main" busy={change.busy}>
            Write down the change
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

function ContactField(props: {
  readonly data: JobAnswersData
  readonly value: JobAnswersData['contacts'][number]['id'] | undefined
  readonly onChange: (id: JobAnswersData['contacts'][number]['id'] | undefined) => void
}) {
  const { contacts } = props.data
  if (contacts.length === 0) return null
  return (
    <SelectField
      label="Contact"
      name="contactId"
      value={props.value === undefined ? '' : String(props.value)}
      empty="nobody named"
      options={contacts.map(({ id, name }) => ({ value: String(id), label: name }))}
      onChange={(value) => props.onChange(contacts.find(({ id }) => String(id) === value)?.id)}
    />
  )
}

function wanted(chosen: readonly Item[]): { shootId: number; deliverableId: number }[] {
  return chosen.map(({ shootId, deliverableId }) => ({ shootId, deliverableId }))
}
