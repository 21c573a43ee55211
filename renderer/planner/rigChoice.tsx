import { SelectField } from '../parts/field.tsx'
import { withUnit } from '../parts/format.ts'
import { api, useAsk } from '../shell/api.ts'
import { usePlannerHand, useText } from './plannerFields.tsx'
import { typedOfRig } from './prefill.ts'

/** The rigs to choose from, and the one that is chosen. */
export function useRigs() {
  const chosen = useText('rig')
  const rigs = useAsk(['rigs', 'list', 'planner'], () =>
    api.rigs.list.query({ page: { offset: 0, limit: 200 } }),
  ).data?.lines
  return { rigs, chosen: rigs?.find(({ id }) => String(id) === chosen) }
}

/** A rig of the studio, whose rim, camera and lens fill the fields; they can be changed afterwards. */
export function RigChoice() {
  const { patch } = usePlannerHand()
  const { rigs, chosen } = useRigs()
  if (!rigs || rigs.length === 0) return null
  return (
    <SelectField
      label="Rig to start from"
      empty="None: type the figures"
      value={chosen ? String(chosen.id) : ''}
      options={rigs.map(({ id, name, current }) => ({
        value: String(id),
        label: `${name}, rim ${withUnit(current.rimMm, 'mm', 4)}`,
      }))}
      onChange={(id) => {
        const rig = rigs.find((each) => String(each.id) === id)
        patch(rig ? typedOfRig(rig.current) : { rig: '' })
      }}
    />
  )
}
