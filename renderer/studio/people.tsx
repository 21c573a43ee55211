import { useState } from 'react'
import type { Answers, Asks } from '../../main/api/types.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { CheckField, TextField } from '../parts/field.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { FieldLine, Form, FormRefusal } from '../parts/form.tsx'
import { dayText, moneyText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { WorksHere } from '../shell/worksHere.tsx'
import { AwayDialog } from './away.tsx'
import css from './screen.module.css'

export type Person = Answers['studio']['people']['people'][number]

/** The people of the studio, when they are away, and who works at this device. */
export function PeopleSection() {
  const people = useAsk(['studio', 'people'], () => api.studio.people.query())
  const [open, setOpen] = useState<Person | 'new'>()
  const [away, setAway] = useState<Person>()
  // The dialog shows what the list holds now, also after an absence was noted in it.
  const awayNow = people.data?.people.find(({ id }) => id === away?.id)
  return (
    <Part
      title="People"
      acts={
        <Button kind="main" onClick={() => setOpen('new')}>
          Add a person
        </Button>
      }
    >
      <WorksHere hint="Changes made at this device are written under this name." />
      <Table
        caption="People of the studio"
        columns={useColumns(setOpen, setAway)}
        rows={people.data?.people}
        keyOf={({ id }) => id}
        empty={null}
      />
      {open ? (
        <PersonDialog person={open === 'new' ? undefined : open} onClose={() => setOpen(undefined)} />
      ) : null}
      {awayNow ? <AwayDialog person={awayNow} onClose={() => setAway(undefined)} /> : null}
    </Part>
  )
}

function useColumns(open: (one: Person) => void, away: (one: Person) => void): readonly Column<Person>[] {
  const { currency, today } = useStudio()
  return [
    { key: 'name', head: 'Name', cell: ({ name }) => name },
    { key: 'role', head: 'Does', cell: ({ role }) => role ?? '' },
    { key: 'turns', head: 'Turns the platter', cell: ({ turns }) => (turns ? 'yes' : 'no') },
    {
      key: 'hour',
      head: 'Costs an hour',
      figure: true,
      cell: ({ hourMinor }) => (hourMinor === 0 ? '' : moneyText(hourMinor, currency)),
    },
    {
      key: 'away',
      head: 'Away',
      cell: ({ absences, leftAt }) => {
        if (leftAt) return 'left the studio'
        const [next] = absences
        return next ? `${dayText(next.fromDay, today)} to ${dayText(next.toDay, today)}` : ''
      },
    },
    {
      key: 'act',
      head: 'Change',
      isHeadSpoken: true,
      tight: true,
      cell: (one) => (
        <span className={css.cellActs}>
          {one.leftAt ? null : (
            <Button kind="quiet" aria-label={`Days away of ${one.name}`} onClick={() => away(one)}>
              Days away
            </Button>
          )}
          <Button kind="quiet" aria-label={`Change ${one.name}`} onClick={() => open(one)}>
            Change
          </Button>
        </span>
      ),
    },
  ]
}

function PersonDialog(props: { readonly person: Person | undefined; readonly onClose: () => void }) {
  const { person } = props
  const { currency } = useStudio()
  const { values, set } = useDraft({
    name: person?.name ?? '',
    role: person?.role ?? '',
    hourMinor: person?.hourMinor ?? (0 as number | null),
    turns: person?.turns ?? true,
  })
  const save = useAct<void>(async () => {
    const sent = values as Asks['studio']['addPerson']
    if (person) await api.studio.changePerson.mutate({ ...sent, personId: person.id })
    else await api.studio.addPerson.mutate(sent)
  }, props.onClose)
  const leave = useAct<boolean>(
    (left) => api.studio.markLeft.mutate({ personId: person?.id ?? 0, left }),
    props.onClose,
  )
  return (
    <Dialog title={person ? `Change ${person.name}` : 'Add a person'} onClose={props.onClose}>
      <Form onSubmit={save.run} refusal={save.refusal}>
        <FieldLine>
          <TextField label="Name" name="name" value={values.name} onChange={set('name')} />
          <TextField label="Does" name="role" value={values.role} onChange={set('role')} />
        </FieldLine>
        <MoneyField
          label="Costs an hour"
          name="hourMinor"
          hint="Estimates go by the studio’s own hours, under Money and terms."
          currency={currency}
          value={values.hourMinor}
          onChange={set('hourMinor')}
        />
        <CheckField label="Turns the platter" name="turns" checked={values.turns} onChange={set('turns')} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            {person ? 'Save' : 'Add the person'}
          </Button>
          {person ? (
            <Button busy={leave.busy} onClick={() => leave.run(!person.leftAt)}>
              {person.leftAt ? `${person.name} is back` : `${person.name} left the studio`}
            </Button>
          ) : null}
        </ButtonRow>
        {leave.refusal ? <FormRefusal sentence={leave.refusal.sentence} /> : null}
      </Form>
    </Dialog>
  )
}
