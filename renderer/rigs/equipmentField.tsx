import type { Answers } from '../../main/api/types.ts'
import { SelectField } from '../parts/field.tsx'
import { api, useAsk } from '../shell/api.ts'

type Kind = Answers['equipment']['list'][number]['kind']

/**
 * Says which piece of the studio's equipment a part of a rig is, so that a booking knows when it is away.
 * Drawn only where there is equipment of that kind.
 */
export function EquipmentField(props: {
  readonly label: string
  readonly kind: Kind
  readonly value: number | null
  readonly onChange: (equipmentId: number | null) => void
}) {
  const { kind, value } = props
  const answer = useAsk(['equipment', 'list', false], () => api.equipment.list.query({ gone: false }))
  const fitting = (answer.data ?? []).filter((one) => one.kind === kind)
  if (fitting.length === 0 && value === null) return null
  return (
    <SelectField
      label={props.label}
      value={value === null ? '' : String(value)}
      empty="None of the studio’s own"
      options={fitting.map(({ id, name }) => ({ value: String(id), label: name }))}
      onChange={(id) => props.onChange((id as string) === '' ? null : Number(id))}
    />
  )
}
