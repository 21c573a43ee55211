import { rigCautions } from '../../main/trade/caution.ts'
import { shown } from '../../main/trade/measures.ts'
import { drawnRig } from '../../main/trade/rigDrawing/drawnRig.ts'
import { RigPlan, RigSide } from '../parts/rigDrawing.tsx'
import type { CameraMoved, LightMoved } from '../parts/rigGrips.tsx'
import css from './rigForm.module.css'
import type { RevisionValue } from './rigValue.ts'
import { usePlatters } from './usePlatters.ts'

/** What is typed, drawn from above and from the side; what is dragged there is typed back. The usual cautions beside it. */
export function FormDrawing(props: {
  readonly name: string
  readonly revision: RevisionValue
  readonly onChange: (revision: RevisionValue) => void
}) {
  const { revision, onChange } = props
  const rimMm = usePlatters().find(({ id }) => id === revision.platterId)?.rimMm ?? null
  const label = props.name || 'This rig'
  const rig = drawnRig({ ...shown(revision), rimMm })
  const hand = {
    onCamera: (moved: CameraMoved) => onChange({ ...revision, ...cameraValue(moved) }),
    onLight: (index: number, moved: LightMoved) => {
      const light = revision.lights[index]
      if (light)
        onChange({ ...revision, lights: revision.lights.with(index, { ...light, ...lightValue(moved) }) })
    },
  }
  return (
    <aside className={css.drawing} aria-label="Drawing">
      {rimMm === null && revision.cameraDistanceUm === null ? (
        <p>Choose the platter and enter the camera’s distance; the drawing is made from them.</p>
      ) : (
        <>
          <section>
            <h2>From above</h2>
            <RigPlan width={448} height={400} label={label} rig={rig} hand={hand} />
          </section>
          <section>
            <h2>From the side</h2>
            <RigSide width={448} height={240} label={label} rig={rig} hand={hand} />
          </section>
          <p className={css.hint}>
            Drag a light or the camera, or choose it with Tab and use the arrow keys; with Shift ten times as
            far.
          </p>
        </>
      )}
      <ul className={css.cautions}>
        {rigCautions.map(({ about, sentence }) => (
          <li key={about}>{sentence}</li>
        ))}
      </ul>
    </aside>
  )
}

/** Millimetres and degrees of a drawing as the fields hold them: whole thousandths. */
function cameraValue({ distanceMm, heightMm, tiltDeg }: CameraMoved): Partial<RevisionValue> {
  return {
    ...(distanceMm === undefined ? {} : { cameraDistanceUm: thousandths(distanceMm) }),
    ...(heightMm === undefined ? {} : { cameraHeightUm: thousandths(heightMm) }),
    ...(tiltDeg === undefined ? {} : { cameraTiltMdeg: thousandths(tiltDeg) }),
  }
}

function lightValue({
  bearingDeg,
  distanceMm,
  heightMm,
}: LightMoved): Partial<RevisionValue['lights'][number]> {
  return {
    ...(bearingDeg === undefined ? {} : { bearingMdeg: thousandths(bearingDeg) % 360_000 }),
    ...(distanceMm === undefined ? {} : { distanceUm: thousandths(distanceMm) }),
    ...(heightMm === undefined ? {} : { heightUm: thousandths(heightMm) }),
  }
}

function thousandths(value: number): number {
  return Math.round(value * 1000)
}
