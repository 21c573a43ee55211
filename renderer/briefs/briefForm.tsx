import { fileName, namePattern } from '../../main/trade/names.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { SelectField, TextArea, TextField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine } from '../parts/form.tsx'
import { api, useAsk } from '../shell/api.ts'
import type { BriefValue } from './briefValue.ts'
import { DeliverablesFields } from './deliverablesFields.tsx'
import { RowFields } from './rowFields.tsx'

interface BriefFormProps {
  readonly value: BriefValue
  readonly onChange: (value: BriefValue) => void
}

/**
 * The fields of a brief: what is wanted of a client's spins, of a job's, or of one spin. Put it inside a
 * `Form`; a refusal of the studio is then shown beside the field it blames.
 */
export function BriefForm({ value, onChange }: BriefFormProps) {
  const set = <K extends keyof BriefValue>(key: K) => {
    return (next: BriefValue[K]) => onChange({ ...value, [key]: next })
  }
  return (
    <>
      <FieldGroup legend="What is delivered of each spin">
        <DeliverablesFields deliverables={value.deliverables} onChange={set('deliverables')} />
        <NamePatternField value={value} onChange={onChange} />
      </FieldGroup>
      <FieldGroup legend="Rows, one turn each">
        <RowFields rows={value.rows} onChange={set('rows')} />
      </FieldGroup>
      <FieldGroup legend="The picture">
        <PictureFields value={value} onChange={onChange} />
      </FieldGroup>
      <FieldGroup legend="The client’s yes">
        <NumberField
          label="Asked for within"
          name="yesDays"
          unit="days"
          hint="Empty: as the studio does."
          value={value.yesDays}
          onChange={set('yesDays')}
        />
        <TextArea label="Anything else" name="note" value={value.note ?? ''} onChange={set('note')} />
      </FieldGroup>
    </>
  )
}

function NamePatternField({ value, onChange }: BriefFormProps) {
  const example = nameExample(value)
  return (
    <TextField
      label="How files are named"
      name="namePattern"
      width="wide"
      refusal={example.sentence}
      hint={
        <>
          {example.name === undefined ? null : (
            <>
              Such as <code>{example.name}</code>.{' '}
            </>
          )}
          In braces: {placeholders.map((one) => `{${one}}`).join(', ')}, or {'{frame:3}'} for three digits.
        </>
      }
      value={value.namePattern}
      onChange={(namePattern) => onChange({ ...value, namePattern })}
    />
  )
}

const placeholders = ['code', 'name', 'variant', 'deliverable', 'job', 'row', 'frame']

/** The first file of an invented product by the pattern, or why the pattern cannot be used. */
function nameExample({ namePattern: pattern, deliverables }: BriefValue): {
  readonly name?: string
  readonly sentence?: string
} {
  const [first] = deliverables
  const product = { code: 'K-104', name: 'Kettle', variant: 'blue', job: '2026-001' }
  try {
    const stem = fileName(namePattern(pattern), {
      ...product,
      deliverable: first?.name ?? '',
      row: 1,
      frame: 1,
    })
    return { name: first ? `${stem}.${first.fileType}` : stem }
  } catch (error) {
    if (error instanceof Refusal) return { sentence: error.message }
    throw error
  }
}

function PictureFields({ value, onChange }: BriefFormProps) {
  const classes = useAsk(['briefs', 'finishClasses'], () => api.briefs.finishClasses.query())
  const set = <K extends keyof BriefValue>(key: K) => {
    return (next: BriefValue[K]) => onChange({ ...value, [key]: next })
  }
  return (
    <>
      <FieldLine>
        <NumberField
          label="White, 0 to 255"
          name="whiteCode"
          hint="Empty: as it falls."
          value={value.whiteCode}
          onChange={set('whiteCode')}
        />
        <NumberField
          label="Product fills"
          name="fillPpm"
          unit="%"
          places={4}
          hint="Of the frame, its longer side."
          value={value.fillPpm}
          onChange={set('fillPpm')}
        />
        <SelectField
          label="Finishing"
          name="finishClassId"
          empty="Not said"
          value={value.finishClassId === null ? '' : String(value.finishClassId)}
          options={(classes.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
          onChange={(id) => set('finishClassId')(id === '' ? null : Number(id))}
        />
      </FieldLine>
      <FieldLine>
        <SelectField
          label="Direction, seen from above"
          name="direction"
          value={value.direction}
          options={[
            { value: 'clockwise', label: 'Clockwise' },
            { value: 'anticlockwise', label: 'Anticlockwise' },
          ]}
          onChange={set('direction')}
        />
        <TextField
          label="Start pose"
          name="startPose"
          hint="What faces the camera in the first frame."
          value={value.startPose ?? ''}
          onChange={set('startPose')}
        />
      </FieldLine>
    </>
  )
}
