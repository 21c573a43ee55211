import { SelectField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import type { ReadAs } from './importValue.ts'

/** What a list says of numbers that carry no unit of their own. */
export function UnitFields(props: { readonly readAs: ReadAs; readonly onChange: (readAs: ReadAs) => void }) {
  const { readAs, onChange } = props
  return (
    <FieldLine>
      <SelectField
        label="Sizes without a unit are in"
        value={readAs.sizeUnit}
        options={[
          { value: 'mm', label: 'mm' },
          { value: 'cm', label: 'cm' },
          { value: 'in', label: 'inches' },
        ]}
        onChange={(sizeUnit) => onChange({ ...readAs, sizeUnit })}
      />
      <SelectField
        label="Masses without a unit are in"
        value={readAs.massUnit}
        options={[
          { value: 'g', label: 'g' },
          { value: 'kg', label: 'kg' },
        ]}
        onChange={(massUnit) => onChange({ ...readAs, massUnit })}
      />
      <SelectField
        label="Decimals are written"
        width="narrow"
        value={readAs.decimalMark}
        options={[
          { value: '.', label: '12.5' },
          { value: ',', label: '12,5' },
        ]}
        onChange={(decimalMark) => onChange({ ...readAs, decimalMark })}
      />
    </FieldLine>
  )
}
