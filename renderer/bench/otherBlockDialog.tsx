import { useState } from 'react'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { DateField, SelectField, TextField, TimeField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { minuteOf } from './clockField.ts'
import { Overruling } from './overruling.tsx'

/** Books a bench for something that is no spin: a test, cleaning, a visit. */
export function OtherBlockDialog(props: { readonly day: string; readonly onClose: () => void }) {
  const { onClose } = props
  const say = useNotice()
  const benches = useAsk(['benches', 'list'], () => api.benches.list.query({ gone: false }))
  const [chosenBench, setBench] = useState<number>()
  const benchId = chosenBench ?? benches.data?.[0]?.id ?? 0
  const { values, set } = useDraft({ title: '', day: props.day, from: '09:00', to: '10:00' })
  const book = useAct(
    (overruledReason: string | null) =>
      api.bookings.add.mutate({
        blocks: [
          {
            benchId,
            kind: 'other',
            title: values.title,
            day: values.day,
            fromMinute: minuteOf(values.from) ?? 0,
            toMinute: minuteOf(values.to) ?? 0,
            overruledReason,
          },
        ],
      }),
    () => {
      say(`'${values.title.trim()}' is booked.`)
      onClose()
    },
  )
  return (
    <Dialog title="Book the bench for something else" onClose={onClose}>
      <Form refusal={book.refusal?.canOverrule ? undefined : book.refusal} onSubmit={() => book.run(null)}>
        <TextField label="What for" name="title" value={values.title} onChange={set('title')} autoFocus />
        <FieldLine>
          <SelectField
            label="Bench"
            name="benchId"
            value={benchId ? String(benchId) : ''}
            options={(benches.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
            onChange={(id) => setBench(Number(id))}
          />
          <DateField label="Day" name="day" width="narrow" value={values.day} onChange={set('day')} />
        </FieldLine>
        <FieldLine>
          <TimeField label="From" name="fromMinute" value={values.from} onChange={set('from')} />
          <TimeField label="To" name="toMinute" value={values.to} onChange={set('to')} />
        </FieldLine>
        <Overruling
          refusal={book.refusal}
          act="Book it all the same"
          busy={book.busy}
          onOverrule={(reason) => book.run(reason)}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={book.busy}>
            Book it
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
