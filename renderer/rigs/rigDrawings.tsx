import { type DrawableRow, drawnRig } from '../../main/trade/rigDrawing/drawnRig.ts'
import { RigPlan, RigSide } from '../parts/rigDrawing.tsx'
import type { Revision } from './rigValue.ts'

/** A revision drawn from above and from the side, with the rows of the settings that are looked at. */
export function RigDrawings(props: {
  readonly name: string
  readonly revision: Revision
  readonly rows?: readonly DrawableRow[]
}) {
  const label = `${props.name}, revision ${props.revision.revision}`
  const rig = drawnRig(props.revision, props.rows)
  return (
    <div>
      <RigPlan width={780} height={520} label={label} rig={rig} />
      <RigSide width={780} height={320} label={label} rig={rig} />
    </div>
  )
}
