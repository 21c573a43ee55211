import { Asked } from '../parts/asked.tsx'
import { RigDrawings } from '../rigs/rigDrawings.tsx'
import { api, useAsk } from '../shell/api.ts'
import css from './beforeTake.module.css'

/** The rig that is to stand, drawn from above and from the side as on its rebuild sheet. */
export function RigToBuild(props: { readonly rigRevisionId: number; readonly name: string }) {
  const { rigRevisionId, name } = props
  const revision = useAsk(['rigs', 'revision', rigRevisionId], () =>
    api.rigs.revision.query({ rigRevisionId }),
  )
  return (
    <Asked of={revision}>
      {(stands) => (
        <div className={css.drawings}>
          <RigDrawings name={name} revision={stands} />
        </div>
      )}
    </Asked>
  )
}
