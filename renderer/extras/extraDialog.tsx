import { lineNetMinor } from '../../main/trade/money.ts'
import { LineRow, LineTable } from '../invoices/lineRow.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { DateField, TextArea, TextField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import {
  type Extra,
  type JobExtras,
  newLine,
  sentExtra,
  type TypedExtraLine,
  typedExtra,
} from './extraValue.ts'

/** Proposes an extra, or changes one that is not answered yet. */
export function ExtraDialog(props: {
  readonly jobId: number
  readonly data: JobExtras
  readonly extra: Extra | undefined
  readonly onClose: () => void
}) {
  const { jobId, data, extra, onClose } = props
  const say = useNotice()
  const { values, set } = useDraft(typedExtra(extra, data.taxRateId))
  const save = useAct<void>(
    async () => {
      const sent = sentExtra(values)
      if (extra) await api.extras.change.mutate({ extraId: extra.id, extra: sent })
      else await api.extras.propose.mutate({ jobId, extra: sent })
    },
    () => {
      say('Proposed. It is billed once the client’s yes is written down.')
      onClose()
    },
  )
  return (
    <Dialog title={extra ? `Change ${extra.name}` : 'Propose an extra'} wide onClose={onClose}>
      <Form onSubmit={() => save.run()} refusal={save.refusal}>
        <FieldLine>
          <TextField
            label="What it is called"
            name="extra.title"
            placeholder="Two more colours"
            value={values.title}
            onChange={set('title')}
          />
          <DateField
            label="New due day"
            name="extra.newDueDay"
            hint="Empty: the day stays as it is."
            value={values.newDueDay}
            onChange={set('newDueDay')}
          />
        </FieldLine>
        <Lines data={data} lines={values.lines} onChange={set('lines')} />
        <TextArea
          label="Why"
          name="extra.why"
          rows={2}
          hint="The client reads it on the page of extras."
          value={values.why}
          onChange={set('why')}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            {extra ? 'Save it' : 'Propose it'}
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

function Lines(props: {
  readonly data: JobExtras
  readonly lines: readonly TypedExtraLine[]
  readonly onChange: (lines: readonly TypedExtraLine[]) => void
}) {
  const { data, lines, onChange } = props
  const rates = useAsk(['taxRates', 'list'], () => api.taxRates.list.query())
  const patch = (at: TypedExtraLine, some: Partial<TypedExtraLine>) =>
    onChange(lines.map((one) => (one === at ? { ...one, ...some } : one)))
  const taxes = (rates.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))
  return (
    <>
      <LineTable caption="Lines of the extra">
        {lines.map((line, index) => (
          <LineRow
            key={line.key}
            line={line}
            index={index}
            path="extra.lines"
            currency={data.currency}
            tax={{
              value: String(line.taxRateId),
              options: taxes,
              onChange: (value) => patch(line, { taxRateId: Number(value) }),
            }}
            net={netText(line, data.currency)}
            onChange={(some) => patch(line, some)}
            onRemove={() => onChange(lines.toSpliced(index, 1))}
          />
        ))}
      </LineTable>
      <ButtonRow>
        <Button onClick={() => onChange([...lines, newLine(lines, data.taxRateId)])}>Add a line</Button>
      </ButtonRow>
    </>
  )
}

function netText({ quantityMilli, priceMinor, baseMilli }: TypedExtraLine, currency: string): string {
  if (quantityMilli === null || priceMinor === null || baseMilli === null || baseMilli <= 0) return ''
  return moneyText(lineNetMinor(quantityMilli, priceMinor, baseMilli), currency)
}
