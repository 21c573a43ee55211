import { instantAt } from '../../main/trade/calendar.ts'
import type { SampleMove } from '../../main/trade/samples.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { DateField, TextArea, TextField, TimeField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { promiseWords } from './promiseWords.ts'

interface MoveWords {
  /** Of the button that opens the dialog. */
  readonly act: string
  /** Before the count of samples. */
  readonly title: string
  readonly submit: string
  readonly done: string
  readonly grave?: true
  readonly fields: readonly ('place' | 'condition' | 'carrier')[]
}

/** Each move of a sample in a person's words. */
export const moveWords: Readonly<Record<SampleMove, MoveWords>> = {
  arrive: {
    act: 'Arrived',
    title: 'Arrived:',
    submit: 'Take them in',
    done: 'taken in',
    fields: ['place', 'condition'],
  },
  shift: {
    act: 'Put elsewhere',
    title: 'Put elsewhere:',
    submit: 'Put them there',
    done: 'put elsewhere',
    fields: ['place', 'condition'],
  },
  miss: { act: 'Missing', title: 'Missing:', submit: 'They are missing', done: 'missing', fields: [] },
  wrong: {
    act: 'Wrong product',
    title: 'The wrong product came:',
    submit: 'The wrong product came',
    done: 'the wrong product',
    fields: ['place', 'condition'],
  },
  break: {
    act: 'Broken',
    title: 'Broken:',
    submit: 'They are broken',
    done: 'broken',
    fields: ['place', 'condition'],
  },
  sendBack: {
    act: 'Send back',
    title: 'Going back:',
    submit: 'They have gone back',
    done: 'back with the client',
    fields: ['carrier', 'condition'],
  },
  keep: { act: 'Keep', title: 'Kept:', submit: 'They are kept', done: 'kept', fields: [] },
  destroy: {
    act: 'Destroy',
    title: 'Destroyed:',
    submit: 'They are destroyed',
    done: 'destroyed',
    grave: true,
    fields: [],
  },
}

/** Writes down what happened to one sample or forty: when, where, in what condition. */
export function MoveDialog(props: {
  readonly samples: readonly { readonly id: number; readonly code: string }[]
  readonly move: SampleMove
  readonly onClose: () => void
}) {
  const { samples, move } = props
  const { today, timeZone } = useStudio()
  const say = useNotice()
  const wording = moveWords[move]
  const { values, set } = useDraft({
    day: today,
    time: '',
    place: '',
    condition: '',
    carrier: '',
    note: '',
  })
  const [only] = samples
  const subject = samples.length === 1 && only ? only.code : countText(samples.length, 'sample')
  const act = useAct(
    () => {
      const { day, time, ...rest } = values
      const sampleIds = samples.map(({ id }) => id)
      return api.samples.move.mutate({ sampleIds, move, at: instantOf(day, time, today, timeZone), ...rest })
    },
    ({ promises }) => {
      say(`${subject}: ${wording.done}.${promiseWords(promises, today)}`)
      props.onClose()
    },
  )
  return (
    <Dialog title={`${wording.title} ${subject}`} onClose={props.onClose}>
      <Form onSubmit={() => act.run()} refusal={act.refusal}>
        <FieldLine>
          <DateField label="Day" name="at" max={today} value={values.day} onChange={set('day')} />
          <TimeField label="Time" hint="Empty: now, or midday." value={values.time} onChange={set('time')} />
        </FieldLine>
        {wording.fields.includes('place') ? (
          <TextField label="Where it is put" name="place" value={values.place} onChange={set('place')} />
        ) : null}
        {wording.fields.includes('carrier') ? (
          <TextField label="By whom" name="carrier" value={values.carrier} onChange={set('carrier')} />
        ) : null}
        {wording.fields.includes('condition') ? (
          <TextField
            label="Condition"
            name="condition"
            placeholder="unopened"
            value={values.condition}
            onChange={set('condition')}
          />
        ) : null}
        <TextArea label="Note" name="note" rows={2} value={values.note} onChange={set('note')} />
        <ButtonRow>
          <Button type="submit" kind={wording.grave ? 'grave' : 'main'} busy={act.busy}>
            {wording.submit}
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

const midday = 12 * 60

/** The instant of a day and time typed in the studio's zone; null for now. */
function instantOf(day: string, time: string, today: string, timeZone: string): string | null {
  if (day === '' || (time === '' && day === today)) return null
  const [hours = 0, minutes = 0] = time.split(':').map(Number)
  return instantAt(day, time === '' ? midday : hours * 60 + minutes, timeZone).toISOString()
}
