import { formatDecimal } from './decimal.ts'
import { lookingText } from './looking.ts'
import { lightLetter } from './rigDrawing/drawnRig.ts'
import { apertureText, heldWords, shutterText } from './settings.ts'

/** A figure with its name, for the screen and for paper alike. */
export interface Fact {
  readonly label: string
  readonly value: string
}

/** A light as it is told; angles in degrees, lengths in mm. */
export interface ToldLight {
  readonly kind: string
  readonly modifier: string | null
  readonly bearingDeg: number
  readonly elevationDeg: number
  readonly distanceMm: number
  readonly heightMm: number
  readonly power: string | null
  readonly colourTemperatureK: number | null
}

/** A revision as it is told. */
export interface ToldRig {
  readonly platterName: string
  readonly rimMm: number
  readonly divisionMm: number
  readonly surface: string | null
  readonly loadLimitG: number | null
  readonly backdrop: string
  readonly camera: string
  readonly sensorWidthMm: number | null
  readonly sensorHeightMm: number | null
  readonly sensorWidthPx: number | null
  readonly sensorHeightPx: number | null
  readonly lens: string
  readonly focalMm: number
  readonly widestCenti: number | null
  readonly smallestCenti: number | null
  readonly cameraDistanceMm: number
  readonly cameraHeightMm: number
  readonly cameraTiltDeg: number
  readonly productSweptMm: number | null
  readonly productHeightMm: number | null
  readonly flags: string | null
  readonly note: string | null
}

/** Settings as they are told. */
export interface ToldSettings {
  readonly focusMm: number | null
  readonly apertureCenti: number | null
  readonly apertureHeld: string
  readonly shutterNum: number | null
  readonly shutterDen: number | null
  readonly iso: number | null
  readonly whiteBalanceK: number | null
  readonly cropXPpm: number
  readonly cropYPpm: number
  readonly cropWidthPpm: number
  readonly cropHeightPpm: number
  readonly development: string | null
  readonly note: string | null
  readonly rows: readonly {
    readonly viewAngleDeg: number
    readonly framesPerTurn: number
    readonly overlapFrames: number
    readonly cameraDistanceMm: number | null
    readonly cameraHeightMm: number | null
  }[]
}

/** What stands, as one would read it out while building it; what is not written down is left out. */
export function rigFacts(rig: ToldRig): readonly Fact[] {
  const { sensorWidthMm, sensorHeightMm, sensorWidthPx, sensorHeightPx, widestCenti, smallestCenti } = rig
  return given([
    ['Platter', rig.platterName],
    ['Rim', mm(rig.rimMm)],
    ['Division', mm(rig.divisionMm)],
    ['Surface', rig.surface],
    ['Load limit', rig.loadLimitG === null ? null : massFact(rig.loadLimitG)],
    ['Backdrop', rig.backdrop],
    ['Camera', rig.camera],
    [
      'Sensor',
      sensorWidthMm === null || sensorHeightMm === null ? null : times(sensorWidthMm, sensorHeightMm, 'mm'),
    ],
    [
      'Pixels',
      sensorWidthPx === null || sensorHeightPx === null ? null : times(sensorWidthPx, sensorHeightPx, 'px'),
    ],
    ['Lens', `${rig.lens}, ${mm(rig.focalMm)}`],
    ['It opens to', widestCenti === null ? null : apertureText(widestCenti)],
    ['It closes to', smallestCenti === null ? null : apertureText(smallestCenti)],
    ['Camera distance', mm(rig.cameraDistanceMm)],
    ['Camera height', mm(rig.cameraHeightMm)],
    ['Camera tilt', lookingText(rig.cameraTiltDeg)],
    [
      'Product',
      rig.productSweptMm === null || rig.productHeightMm === null
        ? null
        : `${mm(rig.productSweptMm)} wide as it turns, ${mm(rig.productHeightMm)} high`,
    ],
    ['Flags', rig.flags],
    ['Note', rig.note],
  ])
}

/** One part of a rig in one line, as it is set up: 'house camera, 1,850 mm from the axis, 220 mm high, 5° down'. */
export function partLine(rig: ToldRig, part: 'platter' | 'backdrop' | 'camera' | 'lens'): string {
  switch (part) {
    case 'platter':
      return `${rig.platterName}, rim ${mm(rig.rimMm)}, division ${mm(rig.divisionMm)}`
    case 'backdrop':
      return rig.backdrop
    case 'camera':
      return `${rig.camera}, ${mm(rig.cameraDistanceMm)} from the axis, ${mm(rig.cameraHeightMm)} high, ${lookingText(rig.cameraTiltDeg)}`
    case 'lens':
      return rig.lens.includes(decimal(rig.focalMm)) ? rig.lens : `${rig.lens}, at ${mm(rig.focalMm)}`
  }
}

/** What a light is and where, each figure by itself; empty where it is not written down. */
export function lightCells(light: ToldLight, index: number) {
  return {
    letter: lightLetter(index),
    what: [light.kind, light.modifier].filter(Boolean).join(', '),
    bearing: `${decimal(light.bearingDeg)}°`,
    distance: mm(light.distanceMm),
    height: mm(light.heightMm),
    elevation: lookingText(light.elevationDeg),
    power: light.power ?? '',
    colour: light.colourTemperatureK === null ? '' : withUnit(light.colourTemperatureK, 'K'),
  }
}

/** A light in one line: 'softbox, grid, 45° at 900 mm, 520 mm high, falling 30° down, 1/2, 5,500 K'. */
export function lightFact(light: ToldLight, index: number): Fact {
  const cells = lightCells(light, index)
  return {
    label: `Light ${cells.letter}`,
    value: [cells.what, lightPlace(light, index), cells.power, cells.colour].filter(Boolean).join(', '),
  }
}

/** Where a light stands: '45° at 900 mm, 520 mm high, falling 30° down'. */
export function lightPlace(light: ToldLight, index: number): string {
  const { bearing, distance, height, elevation } = lightCells(light, index)
  return `${bearing} at ${distance}, ${height} high, falling ${elevation}`
}

/** What is dialled, and for each row what is turned and where the camera stands for it, if not as the rig says. */
export function settingsFacts(settings: ToldSettings): readonly Fact[] {
  const { focusMm, apertureCenti, shutterNum, shutterDen, iso, whiteBalanceK, rows } = settings
  return given([
    ...rows.map((row, index): [string, string] => [
      rows.length > 1 ? `Row ${index + 1}` : 'Turn',
      rowText(row),
    ]),
    ['Focus at', focusMm === null ? null : `${mm(focusMm)} from the lens`],
    [
      'Aperture',
      apertureCenti === null ? null : `${apertureText(apertureCenti)}, ${heldWords(settings.apertureHeld)}`,
    ],
    ['Shutter', shutterNum === null || shutterDen === null ? null : shutterText(shutterNum, shutterDen)],
    ['ISO', iso === null ? null : String(iso)],
    ['White balance', whiteBalanceK === null ? null : withUnit(whiteBalanceK, 'K')],
    ['Crop', cropText(settings)],
    ['Development', settings.development],
    ['Note on the settings', settings.note],
  ])
}

/** '240 + 3 frames, 5° down', and the camera's own place for the row. */
function rowText(row: ToldSettings['rows'][number]): string {
  const frames =
    row.overlapFrames > 0 ? `${row.framesPerTurn} + ${row.overlapFrames}` : `${row.framesPerTurn}`
  return [
    `${frames} frames`,
    lookingText(row.viewAngleDeg),
    row.cameraDistanceMm !== null && `camera ${mm(row.cameraDistanceMm)} from the axis`,
    row.cameraHeightMm !== null && `${mm(row.cameraHeightMm)} high`,
  ]
    .filter(Boolean)
    .join(', ')
}

/** The crop in per cent of the frame; null where it is the whole frame. */
function cropText({ cropXPpm, cropYPpm, cropWidthPpm, cropHeightPpm }: ToldSettings): string | null {
  if (cropWidthPpm === 1_000_000 && cropHeightPpm === 1_000_000) return null
  const part = (ppm: number) => `${formatDecimal(Math.round(ppm / 1000), 1)}\u00a0%`
  return `${part(cropWidthPpm)} wide and ${part(cropHeightPpm)} high, from ${part(cropXPpm)} left and ${part(cropYPpm)} top`
}

function given(facts: readonly (readonly [string, string | null])[]): readonly Fact[] {
  return facts.flatMap(([label, value]) => (value === null || value === '' ? [] : [{ label, value }]))
}

function massFact(massG: number): string {
  return massG < 1000 ? withUnit(massG, 'g') : `${formatDecimal(massG, 3)}\u00a0kg`
}

function times(a: number, b: number, unit: string): string {
  return `${decimal(a)} × ${decimal(b)}\u00a0${unit}`
}

function mm(value: number): string {
  return withUnit(value, 'mm')
}

function withUnit(value: number, unit: string): string {
  return `${decimal(value)}\u00a0${unit}`
}

/** To a ten-thousandth, as finely as anything is kept. */
function decimal(value: number): string {
  return formatDecimal(Math.round(value * 10_000), 4)
}
