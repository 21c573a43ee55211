import { useState } from 'react'
import type { Asks } from '../../main/api/types.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField, TextField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine, Form, FormRefusal } from '../parts/form.tsx'
import { api, useAct } from '../shell/api.ts'
import type { Bench } from './benches.tsx'
import { hoursText, readHours } from './hours.ts'
import css from './screen.module.css'

const weekdays = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'] as const
type Weekday = (typeof weekdays)[number]

/** A bench: where it stands, what it bears, and when it is open. */
export function BenchDialog(props: { readonly bench: Bench | undefined; readonly onClose: () => void }) {
  const { bench } = props
  const { values, set } = useDraft({
    name: bench?.name ?? '',
    place: bench?.place ?? ('ours' as Bench['place']),
    address: bench?.address ?? '',
    loadLimitG: bench?.loadLimitG ?? (null as number | null),
  })
  const [hours, setHours] = useState(() => hoursOf(bench))
  const [hasTried, setTried] = useState(false)
  const readings = weekdays.map((weekday, index) => readDay(hours[weekday], weekday, index + 1))
  const save = useAct<void>(async () => {
    const sent: Asks['benches']['add'] = {
      ...values,
      openings: readings.flatMap(({ openings }) => openings),
      platterIds: [...(bench?.platterIds ?? [])],
    }
    if (bench) await api.benches.change.mutate({ benchId: bench.id, bench: sent })
    else await api.benches.add.mutate(sent)
  }, props.onClose)
  const retire = useAct(
    () => api.benches.retire.mutate({ benchId: bench?.id ?? 0, gone: true }),
    props.onClose,
  )
  const submit = () => {
    setTried(true)
    if (readings.every(({ sentence }) => sentence === undefined)) save.run()
  }
  return (
    <Dialog title={bench ? `Change ${bench.name}` : 'Add a bench'} wide onClose={props.onClose}>
      <Form onSubmit={submit} refusal={save.refusal}>
        <FieldLine>
          <TextField label="Name" name="name" value={values.name} onChange={set('name')} />
          <NumberField
            label="Load limit"
            name="loadLimitG"
            unit="g"
            hint="As its maker says; empty where none is given."
            value={values.loadLimitG}
            onChange={set('loadLimitG')}
          />
        </FieldLine>
        <FieldLine>
          <SelectField
            label="Stands"
            name="place"
            value={values.place}
            options={[
              { value: 'ours', label: 'With us' },
              { value: 'client', label: 'At a client’s' },
            ]}
            onChange={set('place')}
          />
          {values.place === 'client' ? (
            <TextField label="Where" name="address" value={values.address} onChange={set('address')} />
          ) : null}
        </FieldLine>
        <FieldGroup legend="Open">
          <p className={css.note}>
            Such as 9:00–12:30, 13:15–17:30. A day left empty is closed. Local time of the studio.
          </p>
          <FieldLine>
            {weekdays.map((weekday, index) => (
              <TextField
                key={weekday}
                label={weekday}
                refusal={hasTried ? readings[index]?.sentence : undefined}
                value={hours[weekday]}
                onChange={(text) => setHours((before) => ({ ...before, [weekday]: text }))}
              />
            ))}
          </FieldLine>
        </FieldGroup>
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            {bench ? 'Save the bench' : 'Add the bench'}
          </Button>
          {bench ? (
            <Button busy={retire.busy} onClick={() => retire.run()}>
              Give the bench up
            </Button>
          ) : null}
        </ButtonRow>
        {retire.refusal ? <FormRefusal sentence={retire.refusal.sentence} /> : null}
      </Form>
    </Dialog>
  )
}

/** Monday to Friday as the first bench of a studio starts: common practice, no published source. */
const usualHours = '09:00–12:30, 13:15–17:30'

function hoursOf(bench: Bench | undefined): Readonly<Record<Weekday, string>> {
  return Object.fromEntries(
    weekdays.map((weekday, index) => [
      weekday,
      bench
        ? hoursText(bench.openings.filter((opening) => opening.weekday === index + 1))
        : index < 5
          ? usualHours
          : '',
    ]),
  ) as Record<Weekday, string>
}

function readDay(text: string, weekday: Weekday, number: number) {
  try {
    return { openings: readHours(text, weekday).map((stretch) => ({ ...stretch, weekday: number })) }
  } catch (error) {
    if (error instanceof Refusal) return { openings: [], sentence: error.message }
    throw error
  }
}
