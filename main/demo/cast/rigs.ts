import type { Asks } from '../../api/types.ts'
import { angleToAxisDeg } from '../../trade/looking.ts'
import type { SizeClass } from '../../trade/product.ts'

type Platter = Asks['platters']['add']
type Revision = Asks['rigs']['add']['revision']
type Light = Revision['lights'][number]
export type CastRevision = Omit<Revision, 'platterId' | 'lensEquipmentId' | 'cameraEquipmentId'>

/** A rig of the cast with its revisions, the first one oldest. Bearings from the camera's side. */
export interface CastRig {
  readonly key: string
  readonly name: string
  readonly sizeClass: SizeClass
  readonly note: string | null
  readonly platter: string
  readonly revisions: readonly (CastRevision & {
    /** Days before today on which it was built. */ readonly daysAgo: number
  })[]
}

export const castPlatters: readonly Platter[] = [
  {
    name: 'Small disc',
    rimMm: 760,
    divisionMm: 1,
    loadLimitG: 3_000,
    surface: 'opal acrylic',
    note: null,
  },
  {
    name: 'Birch platter',
    rimMm: 1220,
    divisionMm: 1,
    loadLimitG: 12_000,
    surface: 'matt white board',
    note: 'The tape was laid anew last spring.',
  },
  {
    name: 'Great wheel',
    rimMm: 2880,
    divisionMm: 1,
    loadLimitG: 60_000,
    surface: 'grey felt',
    note: 'Two people to turn it under heavy goods.',
  },
]

/** What the benches share. `repairFrom`: in repair from that many days after today. */
export const castEquipment: readonly (Asks['equipment']['add'] & { readonly repairFrom?: number })[] = [
  { name: 'Flash head, 500 Ws', kind: 'light', count: 6 },
  { name: 'Flash head, 1200 Ws', kind: 'light', count: 2, repairFrom: -4 },
  { name: 'Light table, opal', kind: 'light', count: 1 },
  { name: 'Full-frame body, 45 megapixels', kind: 'camera', count: 2 },
  { name: '100 mm macro', kind: 'lens', count: 1 },
  { name: '70 mm', kind: 'lens', count: 1 },
  { name: '50 mm', kind: 'lens', count: 1 },
  { name: 'Paper sweep, 2.72 m', kind: 'backdrop', count: 2 },
  { name: 'Bust, adjustable', kind: 'prop', count: 2 },
]

const light = (
  kind: string,
  bearingDeg: number,
  distanceMm: number,
  heightMm: number,
  more: Partial<Light> = {},
): Light => ({
  kind,
  bearingDeg,
  distanceMm,
  heightMm,
  // Pointed at the platter's middle, to the degree a stand head can be read.
  elevationDeg: Math.round(angleToAxisDeg(distanceMm, heightMm, 0)),
  colourTemperatureK: 5500,
  ...more,
})

const camera = {
  camera: 'full-frame body, 45 megapixels',
  sensorWidthMm: 36,
  sensorHeightMm: 24,
  sensorWidthPx: 8256,
  sensorHeightPx: 5504,
}

const glass: CastRevision = {
  backdrop: 'opal acrylic, lit from below',
  ...camera,
  lens: '100 mm macro',
  focalMm: 100,
  widestCenti: 280,
  smallestCenti: 3200,
  productSweptMm: 74,
  productHeightMm: 148,
  cameraDistanceMm: 820,
  cameraHeightMm: 96,
  cameraTiltDeg: 3,
  flags: 'black cards at 80° and 280°',
  why: 'Edges of clear glass need black beside them.',
  lights: [
    light('strip softbox', 75, 520, 180, { modifier: 'grid', power: '1/8' }),
    light('strip softbox', 285, 520, 180, { modifier: 'grid', power: '1/8' }),
    light('light table', 180, 260, -60, { power: '40 %', elevationDeg: -90 }),
  ],
}

const table: CastRevision = {
  backdrop: 'white paper sweep, 1.35 m',
  ...camera,
  lens: '70 mm',
  focalMm: 70,
  widestCenti: 280,
  smallestCenti: 2200,
  productSweptMm: 260,
  productHeightMm: 270,
  cameraDistanceMm: 1850,
  cameraHeightMm: 260,
  cameraTiltDeg: 5,
  why: 'First set-up for goods of table size.',
  lights: [
    light('softbox 60 × 90', 45, 900, 520, { power: '1/2' }),
    light('softbox 60 × 90', 315, 900, 520, { power: '1/2' }),
    light('background light', 160, 1100, 350, { power: '1/4' }),
  ],
}

const great: CastRevision = {
  backdrop: 'white paper sweep, 2.72 m',
  ...camera,
  lens: '50 mm',
  focalMm: 50,
  widestCenti: 180,
  smallestCenti: 1600,
  productSweptMm: 640,
  productHeightMm: 980,
  cameraDistanceMm: 3400,
  cameraHeightMm: 620,
  cameraTiltDeg: 6,
  why: 'Busts and chests need the distance.',
  lights: [
    light('octobox 120', 40, 1700, 1300, { power: '1/1' }),
    light('octobox 120', 320, 1700, 1300, { power: '1/1' }),
    light('background light', 150, 1900, 700, { power: '1/2' }),
    light('background light', 210, 1900, 700, { power: '1/2' }),
  ],
}

export const castRigs: readonly CastRig[] = [
  {
    key: 'small',
    name: 'Glass and small goods',
    sizeClass: 'small',
    note: 'Level the disc before every set: on it a millimetre shows.',
    platter: 'Small disc',
    revisions: [
      { ...glass, daysAgo: 725 },
      {
        ...glass,
        daysAgo: 260,
        cameraHeightMm: 110,
        cameraTiltDeg: 4,
        why: 'Camera raised: the shoulders of the flacons closed up.',
      },
    ],
  },
  {
    key: 'medium',
    name: 'Table goods',
    sizeClass: 'medium',
    note: null,
    platter: 'Birch platter',
    revisions: [
      { ...table, daysAgo: 725 },
      {
        ...table,
        daysAgo: 430,
        why: 'Third softbox from above against the dark lid of kettles and pans.',
        lights: [
          ...table.lights,
          light('softbox 40 × 40', 0, 950, 1400, { modifier: 'diffuser', power: '1/8' }),
        ],
      },
      {
        ...table,
        daysAgo: 120,
        cameraDistanceMm: 1920,
        why: 'Camera moved back for lamp arms that swept out of the frame.',
        lights: [
          ...table.lights,
          light('softbox 40 × 40', 0, 950, 1400, { modifier: 'diffuser', power: '1/8' }),
        ],
      },
    ],
  },
  {
    key: 'large',
    name: 'Great wheel',
    sizeClass: 'large',
    note: 'Sandbags on every stand; cables taped outside the wheel’s path.',
    platter: 'Great wheel',
    revisions: [
      { ...great, daysAgo: 720 },
      {
        ...great,
        daysAgo: 300,
        cameraHeightMm: 700,
        why: 'Camera raised by 80 mm so that collars show.',
      },
    ],
  },
]
