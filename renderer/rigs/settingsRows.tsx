import { Button } from '../parts/button.tsx'
import { LengthField, NumberField } from '../parts/figureFields.tsx'
import { FieldLine } from '../parts/form.tsx'

/** A row while it is typed: angles in thousandths of a degree, lengths in µm, as the fields hold them. */
export interface RowValue {
  readonly viewAngleMdeg: number | null
  readonly framesPerTurn: number | null
  readonly overlapFrames: number | null
  readonly cameraDistanceUm: number | null
  readonly cameraHeightUm: number | null
}

export const emptyRow: RowValue = {
  viewAngleMdeg: 0,
  framesPerTurn: null,
  overlapFrames: 0,
  cameraDistanceUm: null,
  cameraHeightUm: null,
}

const mostRows = 20

/** The rows of settings: what is turned, from which angle, and where the camera stands for it if not as the rig says. */
export function SettingsRows(props: {
  readonly rows: readonly RowValue[]
  readonly onChange: (rows: RowValue[]) => void
}) {
  const { rows, onChange } = props
  const several = rows.length > 1
  return (
    <>
      {rows.map((row, index) => {
        const set = (values: Partial<RowValue>) => onChange(rows.with(index, { ...row, ...values }))
        const name = (field: string) => `rows.${index}.${field}`
        return (
          <FieldLine key={index}>
            <NumberField
              label={several ? `Frames per turn, row ${index + 1}` : 'Frames per turn'}
              name={name('framesPerTurn')}
              value={row.framesPerTurn}
              onChange={(framesPerTurn) => set({ framesPerTurn })}
            />
            <NumberField
              label="Overlap"
              unit="frames"
              name={name('overlapFrames')}
              value={row.overlapFrames}
              onChange={(overlapFrames) => set({ overlapFrames })}
            />
            <NumberField
              label="Looks down"
              unit="°"
              places={3}
              name={name('viewAngleDeg')}
              value={row.viewAngleMdeg}
              onChange={(viewAngleMdeg) => set({ viewAngleMdeg })}
            />
            <LengthField
              kept="um"
              label="Camera from the axis"
              hint="Empty: as the rig says."
              name={name('cameraDistanceMm')}
              value={row.cameraDistanceUm}
              onChange={(cameraDistanceUm) => set({ cameraDistanceUm })}
            />
            <LengthField
              kept="um"
              label="Camera height"
              hint="Empty: as the rig says."
              name={name('cameraHeightMm')}
              value={row.cameraHeightUm}
              onChange={(cameraHeightUm) => set({ cameraHeightUm })}
            />
            {several ? (
              <Button
                kind="quiet"
                aria-label={`Take away row ${index + 1}`}
                onClick={() => onChange(rows.toSpliced(index, 1))}
              >
                Take away
              </Button>
            ) : null}
          </FieldLine>
        )
      })}
      {rows.length < mostRows ? (
        <div>
          <Button onClick={() => onChange([...rows, { ...(rows.at(-1) ?? emptyRow), viewAngleMdeg: null }])}>
            Add a row
          </Button>
        </div>
      ) : null}
    </>
  )
}
