import { useState } from 'react'
import type { PointerSide } from '../../main/trade/check/centre/nudge.ts'
import { SelectField } from '../parts/field.tsx'
import { api, useAct } from '../shell/api.ts'
import type { AidOf, AidStand } from './aidPage.tsx'

/** Where the pointer stands as last said of this rig and row; said anew, it is kept for the takes that are turned there. */
export function usePointer({ rigRevisionId, row }: AidOf, about: AidStand) {
  const [side, setSide] = useState<PointerSide>(about.pointer ?? 'camera')
  const { run } = useAct((said: PointerSide) =>
    rigRevisionId === null
      ? Promise.resolve()
      : api.checkAids.pointerStands.mutate({ rigRevisionId, row, side: said }),
  )
  const say = (said: PointerSide) => {
    setSide(said)
    run(said)
  }
  return { side, say }
}

/** Where the marks are read: a mark at the pointer says where every other one lies. */
export function PointerField(props: {
  readonly value: PointerSide
  readonly onChange: (side: PointerSide) => void
}) {
  return (
    <SelectField
      label="The pointer stands"
      value={props.value}
      options={[
        { value: 'camera', label: 'on the camera’s side' },
        { value: 'left', label: 'at the left of the picture' },
        { value: 'right', label: 'at the right of the picture' },
        { value: 'behind', label: 'behind the platter' },
      ]}
      onChange={props.onChange}
    />
  )
}
