import type { Answers } from '../../main/api/types.ts'
import { lookingText } from '../../main/trade/looking.ts'
import { lightLetter } from '../../main/trade/rigDrawing/drawnRig.ts'
import { apertureText } from '../../main/trade/settings.ts'
import { massText, numberText, withUnit } from '../parts/format.ts'

type Compared = Answers['rigs']['compare']
export type Figure = Compared['figures'][number]
export type ChangeItem = Compared['changeover'][number]

const names: Readonly<Record<string, string>> = {
  platterName: 'Platter',
  rimMm: 'Rim',
  divisionMm: 'Division',
  surface: 'Surface',
  loadLimitG: 'Load limit',
  backdrop: 'Backdrop',
  camera: 'Camera',
  sensorWidthMm: 'Sensor width',
  sensorHeightMm: 'Sensor height',
  sensorWidthPx: 'Pixels across',
  sensorHeightPx: 'Pixels down',
  lens: 'Lens',
  focalMm: 'Focal length',
  widestCenti: 'Opens to',
  smallestCenti: 'Closes to',
  cameraDistanceMm: 'Camera distance',
  cameraHeightMm: 'Camera height',
  cameraTiltDeg: 'Camera tilt',
  productSweptMm: 'Product, swept width',
  productHeightMm: 'Product, height',
  flags: 'Flags',
  note: 'Note',
  backdropEquipment: 'Backdrop, which piece',
  cameraEquipment: 'Camera, which piece',
  lensEquipment: 'Lens, which piece',
  equipment: 'which piece',
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

/** What a figure of a comparison is called: 'Camera height', 'Light B, bearing'. */
export function figureName({ field, light }: Figure): string {
  const name = names[field] ?? field
  return light === null ? name : `${lightName(light)}, ${name}`
}

/** 'Light B'; where its place in the list differs, 'Light B, now C'. */
function lightName({ before, after }: NonNullable<Figure['light']>): string {
  if (before === null) return `Light ${lightLetter(after ?? 0)}`
  return after === null || after === before
    ? `Light ${lightLetter(before)}`
    : `Light ${lightLetter(before)}, now ${lightLetter(after)}`
}

/** A figure of either rig with its unit; 'none' where it is empty. */
export function figureText(field: string, value: string | number | null): string {
  if (value === null || value === '') return 'none'
  if (typeof value === 'string') return value
  if (field === 'cameraTiltDeg' || field === 'elevationDeg') return lookingText(value)
  if (field.endsWith('Mm')) return withUnit(value, 'mm', 4)
  if (field.endsWith('Deg')) return `${numberText(value, 3)}°`
  if (field.endsWith('Px')) return withUnit(value, 'px', 0)
  if (field.endsWith('Centi')) return apertureText(value)
  if (field === 'loadLimitG') return massText(value)
  return field.endsWith('K') ? withUnit(value, 'K', 0) : numberText(value)
}

const parts: Readonly<Record<Exclude<ChangeItem['part'], 'light'>, string>> = {
  platter: 'Change the platter',
  backdrop: 'Change the backdrop',
  camera: 'Move or change the camera',
  lens: 'Change the lens',
  settings: 'Dial the settings',
}

/** What there is to do, as one would say it. */
export function changeText({ part, light }: ChangeItem): string {
  if (part !== 'light') return parts[part]
  if (light?.before == null) return `Bring light ${lightLetter(light?.after ?? 0)}`
  if (light.after === null) return `Take away light ${lightLetter(light.before)}`
  return `Move light ${lightLetter(light.before)}${light.after === light.before ? '' : ` to the place of ${lightLetter(light.after)}`}`
}
