import type { Answers, Asks } from '../../main/api/types.ts'
import { kept, shown } from '../../main/trade/measures.ts'

export type Rig = Answers['rigs']['one']['rig']
export type Revision = Answers['rigs']['one']['revisions'][number]

type SentRevision = Asks['rigs']['add']['revision']

/** A light while it is typed: lengths in µm and angles in thousandths of a degree, as the fields hold them. */
export interface LightValue {
  readonly key: number
  readonly kind: string
  readonly equipmentId: number | null
  readonly modifier: string
  readonly bearingMdeg: number | null
  readonly elevationMdeg: number | null
  readonly distanceUm: number | null
  readonly heightUm: number | null
  readonly power: string
  readonly colourTemperatureK: number | null
}

/** A revision while it is typed. Figures that are empty or cannot be read are null. */
export interface RevisionValue {
  readonly platterId: number | null
  readonly backdrop: string
  readonly backdropEquipmentId: number | null
  readonly camera: string
  readonly cameraEquipmentId: number | null
  readonly sensorWidthUm: number | null
  readonly sensorHeightUm: number | null
  readonly sensorWidthPx: number | null
  readonly sensorHeightPx: number | null
  readonly lens: string
  readonly lensEquipmentId: number | null
  readonly focalUm: number | null
  readonly widestCenti: number | null
  readonly smallestCenti: number | null
  readonly cameraDistanceUm: number | null
  readonly cameraHeightUm: number | null
  readonly cameraTiltMdeg: number | null
  readonly productSweptUm: number | null
  readonly productHeightUm: number | null
  readonly flags: string
  readonly note: string
  readonly why: string
  readonly lights: readonly LightValue[]
}

let lastKey = 0

/** A light to be typed in: in front at the left, at the platter's height. */
export function newLight(): LightValue {
  lastKey += 1
  return {
    key: lastKey,
    kind: '',
    equipmentId: null,
    modifier: '',
    bearingMdeg: 45_000,
    elevationMdeg: 0,
    distanceUm: 900_000,
    heightUm: 0,
    power: '',
    colourTemperatureK: null,
  }
}

export const emptyRevision: RevisionValue = {
  platterId: null,
  backdrop: '',
  backdropEquipmentId: null,
  camera: '',
  cameraEquipmentId: null,
  sensorWidthUm: null,
  sensorHeightUm: null,
  sensorWidthPx: null,
  sensorHeightPx: null,
  lens: '',
  lensEquipmentId: null,
  focalUm: null,
  widestCenti: null,
  smallestCenti: null,
  cameraDistanceUm: null,
  cameraHeightUm: 0,
  cameraTiltMdeg: 0,
  productSweptUm: null,
  productHeightUm: null,
  flags: '',
  note: '',
  why: '',
  lights: [],
}

/** Where the form of a next revision starts: what stands now, and an empty reason. */
export function revisionValueOf(revision: Revision): RevisionValue {
  const { lights, flags, note, ...rest } = kept(revision)
  return {
    ...rest,
    flags: flags ?? '',
    note: note ?? '',
    why: '',
    lights: lights.map((light) => ({
      ...light,
      key: newLight().key,
      modifier: light.modifier ?? '',
      power: light.power ?? '',
    })),
  }
}

/** What is sent. Empty figures go as they are: the studio says which of them it cannot do without. */
export function sentRevision(value: RevisionValue): SentRevision {
  const { lights, ...rest } = value
  return shown({
    ...rest,
    lights: lights.map(({ key: _, ...light }) => light),
  }) as SentRevision
}

/** Whether anything that stands was typed anew, or a reason was: else only the rig's own name, size or note can have been. */
export function isRevised(value: RevisionValue, newest: Revision): boolean {
  const standing = (one: RevisionValue) => JSON.stringify(sentRevision({ ...one, why: '' }))
  return value.why.trim() !== '' || standing(value) !== standing(revisionValueOf(newest))
}
