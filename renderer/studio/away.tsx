import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { DateField, TextField } from '../parts/field.tsx'
import { FieldLine, Form, FormRefusal } from '../parts/form.tsx'
import { dayText } from '../parts/format.ts'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import type { Person } from './people.tsx'
import css from './screen.module.css'

type Absence = Person['absences'][number]

/** The days a person does not work: those that are not over, and a form for the next. */
export function AwayDialog(props: { readonly person: Person; readonly onClose: () => void }) {
  const { person } = props
  const { today } = useStudio()
  const none = { fromDay: '', toDay: '', reason: '' }
  const draft = useDraft(none)
  const { values, set } = draft
  const add = useAct(
    () =>
      api.studio.addAbsence.mutate({
        ...values,
        personId: person.id,
        toDay: values.toDay || values.fromDay,
      }),
    () => draft.reset(none),
  )
  const remove = useAct((absenceId: number) => api.studio.removeAbsence.mutate({ absenceId }))
  const columns: readonly Column<Absence>[] = [
    { key: 'from', head: 'From', cell: ({ fromDay }) => dayText(fromDay, today) },
    { key: 'to', head: 'To, included', cell: ({ toDay }) => dayText(toDay, today) },
    { key: 'why', head: 'Why', cell: ({ reason }) => reason ?? '' },
    {
      key: 'act',
      head: 'Take away',
      isHeadSpoken: true,
      tight: true,
      cell: ({ id, fromDay }) => (
        <Button
          kind="quiet"
          aria-label={`Take away the days from ${dayText(fromDay, today)}`}
          onClick={() => remove.run(id)}
        >
          Take away
        </Button>
      ),
    },
  ]
  return (
    <Dialog title={`Days ${person.name} is away`} onClose={props.onClose}>
      <Form onSubmit={add.run} refusal={add.refusal}>
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
        <TextField label="Why" name="reason" value={values.reason} onChange={set('reason')} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={add.busy}>
            Note the days
          </Button>
        </ButtonRow>
      </Form>
      {remove.refusal ? <FormRefusal sentence={remove.refusal.sentence} /> : null}
      <Table
        caption="Days away that are not over"
        columns={columns}
        rows={person.absences}
        keyOf={({ id }) => id}
        empty={<p className={css.note}>No days away are noted from today on.</p>}
      />
    </Dialog>
  )
}
