import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { DateField, SelectField, TextField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import type { Extra, JobExtras } from './extraValue.ts'

/** Writes down what the client said to an extra: yes or no, who, when and how. */
export function AnswerDialog(props: {
  readonly data: JobExtras
  readonly extra: Extra
  readonly onClose: () => void
}) {
  const { data, extra, onClose } = props
  const { today } = useStudio()
  const say = useNotice()
  const main = data.contacts.find(({ isMain }) => isMain)?.id ?? null
  const { values, set } = useDraft({
    state: 'agreed' as 'agreed' | 'declined',
    contactId: String(data.contactId ?? main ?? ''),
    day: today,
    how: '',
  })
  const decide = useAct(
    () =>
      api.extras.decide.mutate({
        ...values,
        extraId: extra.id,
        contactId: values.contactId === '' ? null : Number(values.contactId),
      }),
    () => {
      say(
        values.state === 'agreed'
          ? `${extra.name} is agreed. The next invoice bills it.`
          : `${extra.name} is declined. It is not billed.`,
      )
      onClose()
    },
  )
  return (
    <Dialog title={`The client’s answer to ${extra.name}`} onClose={onClose}>
      <Form onSubmit={() => decide.run()} refusal={decide.refusal}>
        <SelectField
          label="The client said"
          value={values.state}
          options={[
            { value: 'agreed', label: 'yes' },
            { value: 'declined', label: 'no' },
          ]}
          onChange={set('state')}
        />
        <FieldLine>
          <SelectField
            label="Who"
            name="contactId"
            empty="Nobody named"
            value={values.contactId}
            options={data.contacts.map(({ id, name }) => ({ value: String(id), label: name }))}
            onChange={set('contactId')}
          />
          <DateField label="On" name="day" max={today} value={values.day} onChange={set('day')} />
        </FieldLine>
        <TextField
          label="How"
          name="how"
          placeholder="by e-mail"
          hint="By e-mail, by telephone, signed on the page of extras."
          value={values.how}
          onChange={set('how')}
        />
        <p>An answer stays as it is written down. What changes after it is an extra of its own.</p>
        <ButtonRow>
          <Button type="submit" kind="main" busy={decide.busy}>
            Write it down
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
