import { lineNetMinor } from '../../main/trade/money.ts'
import { type Unit, unitWords } from '../invoices/invoiceWords.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { DateField, SelectField, TextArea, TextField } from '../parts/field.tsx'
import { FieldTable, FigureCell } from '../parts/fieldTable.tsx'
import { MoneyField, NumberField } from '../parts/figureFields.tsx'
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

const units = Object.keys(unitWords) as Unit[]

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
  const taxes = (rates.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))
  return (
    <>
      <FieldTable
        caption="Lines of the extra"
        wide
        columns={[
          { head: 'What' },
          { head: 'Quantity', figure: true, width: 88 },
          { head: 'Unit', width: 116 },
          { head: 'Price', figure: true, width: 124 },
          { head: 'Price for', figure: true, width: 84 },
          { head: 'Tax', width: 124 },
          { head: 'Before tax', figure: true, width: 92 },
          { head: 'Take away', isHeadSpoken: true, width: 84 },
        ]}
      >
        {lines.map((line, index) => (
          <LineRow
            key={line.key}
            line={line}
            index={index}
            currency={data.currency}
            taxes={taxes}
            onChange={(some) => onChange(lines.map((one) => (one === line ? { ...one, ...some } : one)))}
            onRemove={() => onChange(lines.toSpliced(index, 1))}
          />
        ))}
      </FieldTable>
      <ButtonRow>
        <Button onClick={() => onChange([...lines, newLine(lines, data.taxRateId)])}>Add a line</Button>
      </ButtonRow>
    </>
  )
}

function LineRow(props: {
  readonly line: TypedExtraLine
  readonly index: number
  readonly currency: string
  readonly taxes: readonly { readonly value: string; readonly label: string }[]
  readonly onChange: (some: Partial<TypedExtraLine>) => void
  readonly onRemove: () => void
}) {
  const { line, index, currency, taxes, onChange } = props
  const place = (what: string) => `${what}, line ${index + 1}`
  const name = (field: string) => `extra.lines.${index}.${field}`
  return (
    <tr>
      <td>
        <TextField
          label={place('What')}
          name={name('text')}
          value={line.text}
          onChange={(text) => onChange({ text })}
        />
      </td>
      <td>
        <NumberField
          label={place('Quantity')}
          name={name('quantityMilli')}
          places={3}
          value={line.quantityMilli}
          onChange={(quantityMilli) => onChange({ quantityMilli })}
        />
      </td>
      <td>
        <SelectField
          label={place('Unit')}
          value={line.unit}
          options={units.map((value) => ({ value, label: unitWords[value] }))}
          onChange={(unit) => onChange({ unit })}
        />
      </td>
      <td>
        <MoneyField
          label={place('Price')}
          name={name('priceMinor')}
          currency={currency}
          value={line.priceMinor}
          onChange={(priceMinor) => onChange({ priceMinor })}
        />
      </td>
      <td>
        <NumberField
          label={place('The price is for')}
          name={name('baseMilli')}
          places={3}
          value={line.baseMilli}
          onChange={(baseMilli) => onChange({ baseMilli })}
        />
      </td>
      <td>
        <SelectField
          label={place('Tax')}
          value={String(line.taxRateId)}
          options={taxes}
          onChange={(value) => onChange({ taxRateId: Number(value) })}
        />
      </td>
      <FigureCell>{netText(line, currency)}</FigureCell>
      <td>
        <Button kind="quiet" aria-label={`Take away line ${index + 1}`} onClick={props.onRemove}>
          Take away
        </Button>
      </td>
    </tr>
  )
}

function netText({ quantityMilli, priceMinor, baseMilli }: TypedExtraLine, currency: string): string {
  if (quantityMilli === null || priceMinor === null || baseMilli === null || baseMilli <= 0) return ''
  return moneyText(lineNetMinor(quantityMilli, priceMinor, baseMilli), currency)
}
