import type { Answers } from '../../main/api/types.ts'
import { lightLetter } from '../../main/trade/rigDrawing/drawnRig.ts'
import { numberText, withUnit } from '../parts/format.ts'
import { Table } from '../parts/table.tsx'
import { api, useAsk } from '../shell/api.ts'
import type { Revision } from './rigValue.ts'

type Difference = Answers['rigs']['compare'][number]

const names: Readonly<Record<string, string>> = {
  platterName: 'Platter',
  rimMm: 'Rim',
  divisionMm: 'Division',
  backdrop: 'Backdrop',
  camera: 'Camera',
  sensorWidthMm: 'Sensor width',
  sensorHeightMm: 'Sensor height',
  sensorWidthPx: 'Pixels across',
  sensorHeightPx: 'Pixels down',
  lens: 'Lens',
  focalMm: 'Focal length',
  cameraDistanceMm: 'Camera distance',
  cameraHeightMm: 'Camera height',
  cameraTiltDeg: 'Camera tilt',
  flags: 'Flags',
  light: 'the light itself',
  kind: 'kind',
  modifier: 'modifier',
  bearingDeg: 'bearing',
  elevationDeg: 'elevation',
  distanceMm: 'distance',
  heightMm: 'height',
  power: 'power',
  colourTemperatureK: 'colour temperature',
}

/** What differs from one revision to the next, figure by figure. */
export function Differences(props: { readonly before: Revision; readonly after: Revision }) {
  const { before, after } = props
  const answer = useAsk(['rigs', 'compare', before.id, after.id], () =>
    api.rigs.compare.query({ before: before.id, after: after.id }),
  )
  return (
    <Table
      caption={`What changed from revision ${before.revision} to ${after.revision}`}
      rows={answer.data}
      keyOf={({ field, light }) => `${light ?? ''} ${field}`}
      columns={[
        {
          key: 'what',
          head: `From revision ${before.revision} to ${after.revision}`,
          cell: nameOf,
        },
        {
          key: 'before',
          head: 'Before',
          figure: true,
          cell: ({ field, before }) => valueText(field, before),
        },
        { key: 'after', head: 'After', figure: true, cell: ({ field, after }) => valueText(field, after) },
      ]}
      empty={<p>{`No figure differs from revision ${before.revision}; only what was noted.`}</p>}
    />
  )
}

function nameOf({ field, light }: Difference): string {
  const name = names[field] ?? field
  return light === null ? name : `Light ${lightLetter(light - 1)}, ${name}`
}

function valueText(field: string, value: string | number | null): string {
  if (value === null || value === '') return 'none'
  if (typeof value === 'string') return value
  if (field.endsWith('Mm')) return withUnit(value, 'mm', 4)
  if (field.endsWith('Deg')) return `${numberText(value, 3)}°`
  if (field.endsWith('Px')) return withUnit(value, 'px', 0)
  return field.endsWith('K') ? withUnit(value, 'K', 0) : numberText(value)
}
