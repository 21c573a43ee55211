import { useState } from 'react'
import type { Answers, Asks } from '../../main/api/types.ts'
import { taxCategories } from '../../main/trade/bill.ts'
import { formatPercent } from '../../main/trade/money.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { CheckField, DateField, SelectField, TextField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { dayText } from '../parts/format.ts'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { NamedRates, sumOf, typedParts } from './namedRates.tsx'
import css from './screen.module.css'
import { categoryWords } from './taxWords.ts'

type TaxRate = Answers['taxRates']['list'][number]

/** The rates of tax a line can bear. */
export function TaxSection() {
  const rates = useAsk(['taxRates', 'list'], () => api.taxRates.list.query())
  const [open, setOpen] = useState<TaxRate | 'new'>()
  return (
    <Part
      title="Tax"
      acts={
        <Button kind="main" onClick={() => setOpen('new')}>
          Add a rate
        </Button>
      }
    >
      <p className={css.note}>
        Which rate a sale bears, whether none is due, and the words an invoice must then carry, differ by
        country and change. Turnsheet works out what you enter here; your accountant or tax office decides
        what is right.
      </p>
      <Table
        caption="Rates of tax"
        columns={useColumns(setOpen)}
        rows={rates.data}
        keyOf={({ id }) => id}
        empty={<Empty sentence="There is no rate of tax yet. Add the one most of your invoices bear." />}
      />
      {open ? (
        <RateDialog rate={open === 'new' ? undefined : open} onClose={() => setOpen(undefined)} />
      ) : null}
    </Part>
  )
}

function useColumns(open: (rate: TaxRate) => void): readonly Column<TaxRate>[] {
  const { today } = useStudio()
  return [
    { key: 'name', head: 'Rate', cell: ({ name }) => name },
    { key: 'category', head: 'Kind', cell: ({ category }) => categoryWords[category] },
    { key: 'rate', head: 'Per cent', figure: true, cell: ({ ratePpm }) => formatPercent(ratePpm) },
    {
      key: 'parts',
      head: 'Made of',
      cell: ({ namedRates }) =>
        namedRates.map(({ name, ratePpm }) => `${name} ${formatPercent(ratePpm)}`).join(', '),
    },
    {
      key: 'valid',
      head: 'Holds',
      cell: ({ validFrom, validTo }) =>
        [
          validFrom ? `from ${dayText(validFrom, today)}` : '',
          validTo ? `until ${dayText(validTo, today)}` : '',
        ]
          .filter(Boolean)
          .join(' ') || 'always',
    },
    {
      key: 'default',
      head: 'Usual',
      cell: ({ isDefault }) => (isDefault ? 'unless a client has another' : ''),
    },
    {
      key: 'act',
      head: 'Change',
      isHeadSpoken: true,
      tight: true,
      cell: (rate) => (
        <Button kind="quiet" aria-label={`Change ${rate.name}`} onClick={() => open(rate)}>
          Change
        </Button>
      ),
    },
  ]
}

function RateDialog(props: { readonly rate: TaxRate | undefined; readonly onClose: () => void }) {
  const { rate } = props
  const { values, set } = useDraft({
    name: rate?.name ?? '',
    category: rate?.category ?? ('S' as TaxRate['category']),
    ratePpm: rate?.ratePpm ?? (null as number | null),
    parts: typedParts(rate?.namedRates ?? []),
    exemptionReason: rate?.exemptionReason ?? '',
    isDefault: rate?.isDefault ?? false,
    validFrom: rate?.validFrom ?? '',
    validTo: rate?.validTo ?? '',
  })
  const save = useAct<void>(async () => {
    const { parts, ...rest } = values
    const isOfParts = values.category === 'S' && parts.length > 0
    const taxRate = {
      ...rest,
      ratePpm: isOfParts ? sumOf(parts) : values.category === 'S' ? values.ratePpm : 0,
      namedRates: isOfParts ? parts.map(({ name, ratePpm }) => ({ name, ratePpm })) : [],
      validFrom: values.validFrom || null,
      validTo: values.validTo || null,
    } as Asks['taxRates']['add']
    if (rate) await api.taxRates.change.mutate({ taxRateId: rate.id, taxRate })
    else await api.taxRates.add.mutate(taxRate)
  }, props.onClose)
  return (
    <Dialog title={rate ? `Change ${rate.name}` : 'Add a rate of tax'} onClose={props.onClose}>
      <Form onSubmit={save.run} refusal={save.refusal}>
        <TextField label="Name on papers" name="name" value={values.name} onChange={set('name')} />
        <FieldLine>
          <SelectField
            label="Kind"
            name="category"
            value={values.category}
            options={taxCategories.map((value) => ({ value, label: categoryWords[value] }))}
            onChange={set('category')}
          />
          {values.category === 'S' && values.parts.length === 0 ? (
            <NumberField
              label="Per cent"
              name="ratePpm"
              unit="%"
              places={4}
              value={values.ratePpm}
              onChange={set('ratePpm')}
            />
          ) : null}
        </FieldLine>
        {values.category === 'S' ? <NamedRates parts={values.parts} onChange={set('parts')} /> : null}
        {values.category === 'S' || values.category === 'Z' ? null : (
          <TextField
            label="Why no tax is charged"
            name="exemptionReason"
            width="wide"
            hint="Stands on the invoice. Ask your accountant for its wording."
            value={values.exemptionReason}
            onChange={set('exemptionReason')}
          />
        )}
        <FieldLine>
          <DateField
            label="Holds from"
            name="validFrom"
            value={values.validFrom}
            onChange={set('validFrom')}
          />
          <DateField label="Holds until" name="validTo" value={values.validTo} onChange={set('validTo')} />
        </FieldLine>
        <CheckField
          label="The usual rate, unless a client has another"
          name="isDefault"
          checked={values.isDefault}
          onChange={set('isDefault')}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            {rate ? 'Save the rate' : 'Add the rate'}
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
