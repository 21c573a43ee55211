import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { DateField, SelectField, TextField } from '../parts/field.tsx'
import { FieldLine, Form, FormRefusal } from '../parts/form.tsx'
import { dayText } from '../parts/format.ts'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import type { Bench } from './benches.tsx'

type Closure = Answers['benches']['closures'][number]

/** Days on which a bench, or the whole studio, is closed; from today on. */
export function Closures({ benches }: { readonly benches: readonly Bench[] }) {
  const { today } = useStudio()
  const closures = useAsk(['benches', 'closures', today], () =>
    api.benches.closures.query({ fromDay: today, toDay: '9999-12-31' }),
  )
  const [isOpen, setOpen] = useState(false)
  const remove = useAct((closureId: number) => api.benches.removeClosure.mutate({ closureId }))
  const columns: readonly Column<Closure>[] = [
    { key: 'reason', head: 'Why', cell: ({ reason }) => reason },
    {
      key: 'what',
      head: 'Closed',
      cell: ({ benchId }) =>
        benchId === null ? 'the whole studio' : (benches.find(({ id }) => id === benchId)?.name ?? 'a bench'),
    },
    { key: 'from', head: 'From', cell: ({ fromDay }) => dayText(fromDay, today) },
    { key: 'to', head: 'To, included', cell: ({ toDay }) => dayText(toDay, today) },
    {
      key: 'act',
      head: 'Take away',
      isHeadSpoken: true,
      tight: true,
      cell: ({ id, reason }) => (
        <Button kind="quiet" aria-label={`Take away ${reason}`} onClick={() => remove.run(id)}>
          Take away
        </Button>
      ),
    },
  ]
  return (
    <Part
      title="Closed days"
      acts={
        <ButtonRow>
          <ButtonLink to="/studio/benches/holidays">Take in public holidays</ButtonLink>
          <Button onClick={() => setOpen(true)}>Add closed days</Button>
        </ButtonRow>
      }
    >
      {remove.refusal ? <FormRefusal sentence={remove.refusal.sentence} /> : null}
      <Table
        caption="Closed days from today on"
        columns={columns}
        rows={closures.data}
        keyOf={({ id }) => id}
        empty={
          <Empty sentence="No closed days are noted. Enter holidays, or take them in from a calendar file, before you promise a day: due days count around them." />
        }
      />
      {isOpen ? <ClosureDialog benches={benches} onClose={() => setOpen(false)} /> : null}
    </Part>
  )
}

function ClosureDialog(props: { readonly benches: readonly Bench[]; readonly onClose: () => void }) {
  const { values, set } = useDraft({ what: 'studio', fromDay: '', toDay: '', reason: '' })
  const add = useAct(
    () =>
      api.benches.addClosure.mutate({
        benchId: values.what === 'studio' ? null : Number(values.what),
        fromDay: values.fromDay,
        toDay: values.toDay || values.fromDay,
        reason: values.reason,
      }),
    props.onClose,
  )
  return (
    <Dialog title="Add closed days" onClose={props.onClose}>
      <Form onSubmit={add.run} refusal={add.refusal}>
        <TextField label="Why" name="reason" width="wide" value={values.reason} onChange={set('reason')} />
        <SelectField
          label="Closed"
          value={values.what}
          options={[
            { value: 'studio', label: 'The whole studio' },
            ...props.benches.map(({ id, name }) => ({ value: String(id), label: name })),
          ]}
          onChange={set('what')}
        />
        <FieldLine>
          <DateField
            label="From"
            name="fromDay"
            width="narrow"
            value={values.fromDay}
            onChange={set('fromDay')}
          />
          <DateField
            label="To, included"
            name="toDay"
            width="narrow"
            hint="Empty: that one day."
            value={values.toDay}
            onChange={set('toDay')}
          />
        </FieldLine>
        <ButtonRow>
          <Button type="submit" kind="main" busy={add.busy}>
            Add the days
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
