import { SelectField, TextField } from '../parts/field.tsx'
import { FieldGroup, FieldLine } from '../parts/form.tsx'
import { Table } from '../parts/table.tsx'
import type { CsvLooked, Mapping } from './takeStatement.tsx'

type Role = 'day' | 'amount' | 'credit' | 'debit' | 'text' | 'payer' | 'iban' | 'reference' | 'currency'

const roles: readonly (readonly [Role, string])[] = [
  ['day', 'Day'],
  ['amount', 'Amount with its sign'],
  ['credit', 'What came in'],
  ['debit', 'What went out'],
  ['text', 'Text'],
  ['payer', 'Payer or payee'],
  ['iban', 'Their IBAN'],
  ['reference', 'Reference'],
  ['currency', 'Currency'],
]

const orderWords = {
  YMD: 'year, month, day: 2026-03-14',
  DMY: 'day, month, year: 14.03.2026',
  MDY: 'month, day, year: 03/14/2026',
} as const

/** Which column of a bank's file is what, and how its days and amounts are written. */
export function StatementColumns(props: {
  readonly look: CsvLooked
  readonly mapping: Mapping
  readonly onChange: (mapping: Mapping) => void
}) {
  const { look, mapping, onChange } = props
  const isAmbiguous = look.bank === null && look.dayOrders.length > 1
  return (
    <>
      <Table
        caption="Columns of the file"
        columns={[
          {
            key: 'header',
            head: 'In the file',
            cell: ({ header, index }) => header || `column ${index + 1}`,
          },
          { key: 'samples', head: 'First cells', cell: ({ samples }) => samples.filter(Boolean).join(' · ') },
          {
            key: 'is',
            head: 'Taken as',
            cell: ({ header, index }) => (
              <select
                aria-label={`What ${header || `column ${index + 1}`} is taken as`}
                value={roleOf(mapping, index) ?? ''}
                onChange={(event) => onChange(remapped(mapping, index, event.target.value as Role | ''))}
              >
                <option value="">not taken</option>
                {roles.map(([role, word]) => (
                  <option key={role} value={role}>
                    {word}
                  </option>
                ))}
              </select>
            ),
          },
        ]}
        rows={look.headers.map((header, index) => ({ header, index, samples: look.samples[index] ?? [] }))}
        keyOf={({ index }) => index}
        empty={null}
      />
      <FieldGroup legend="How it is written">
        <FieldLine>
          <SelectField
            label="Days are written as"
            value={mapping.dayOrder}
            options={(['YMD', 'DMY', 'MDY'] as const).map((value) => ({ value, label: orderWords[value] }))}
            hint={
              isAmbiguous ? 'These days can be read in more than one way. Compare them below.' : undefined
            }
            onChange={(dayOrder) => onChange({ ...mapping, dayOrder })}
          />
          <SelectField
            label="Decimal mark"
            value={mapping.decimalMark}
            options={[
              { value: '.', label: 'point: 1,234.50' },
              { value: ',', label: 'comma: 1.234,50' },
            ]}
            onChange={(decimalMark) => onChange({ ...mapping, decimalMark })}
          />
        </FieldLine>
        <FieldLine>
          <TextField
            label="Your account"
            value={mapping.account}
            onChange={(account) => onChange({ ...mapping, account })}
          />
          <TextField
            label="Currency of the account"
            width="narrow"
            value={mapping.accountCurrency}
            onChange={(currency) => onChange({ ...mapping, accountCurrency: currency.toUpperCase() })}
          />
        </FieldLine>
      </FieldGroup>
    </>
  )
}

function roleOf(mapping: Mapping, index: number): Role | undefined {
  if (mapping.text.includes(index)) return 'text'
  return roles.find(([role]) => role !== 'text' && mapping[role] === index)?.[0]
}

/** The mapping after one column is taken as something else; only text comes from several columns. */
function remapped(mapping: Mapping, index: number, role: Role | ''): Mapping {
  const bare = { ...mapping, text: mapping.text.filter((each) => each !== index) }
  for (const [each] of roles) if (each !== 'text' && each !== 'day' && bare[each] === index) bare[each] = null
  if (role === '') return bare
  return role === 'text' ? { ...bare, text: [...bare.text, index] } : { ...bare, [role]: index }
}
