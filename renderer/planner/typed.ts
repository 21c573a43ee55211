import { plainRowTexts } from './rowTexts.ts'

/**
 * Everything a person types into the planner, as it is typed, and where each field starts. The whole of it is
 * kept in the page's address under these names, so that a plan can be reloaded and handed on.
 */
export const plainTyped = {
  rimBy: 'reading',
  rim: '1220',
  tape: '0.5',
  division: '1',
  stepIn: 'mm',
  step: '5',
  overlap: '3',
  rows: '1',
  parted: '',
  row: '1',
  set: '24',
  nth: '10',
  compareB: '122',
  compareC: '',
  rate: '25',
  clip: '30',
  start: '0',
  direction: 'clockwise',
  played: 'as shot',
  rig: '',
  sensorW: '36',
  sensorH: '24',
  sensorPxW: '8256',
  sensorPxH: '5504',
  upright: '',
  focal: '70',
  distance: '1000',
  angle: '5',
  product: '',
  swept: '200',
  height: '240',
  pxW: '1080',
  pxH: '1080',
  fNumber: '11',
  widest: '2.8',
  smallest: '22',
  held: 'each frame',
  toFNumber: '16',
  shutter: '1/125',
  toShutter: '1/60',
  iso: '100',
  toIso: '100',
  bits: '14',
  compression: '60',
  cardGb: '64',
  cardSpeed: '90',
  readerSpeed: '95',
  spins: '1',
  people: '1',
  finish: 'matt',
  loop: 'yes',
  setToo: 'yes',
  finishClass: '',
  stepSeconds: '',
  paper: '',
  paperThick: '0.1',
  markSet: 'yes',
  markLoop: '',
  measured: '',
  printedWith: '1',
  ...plainRowTexts,
}

export type Key = keyof typeof plainTyped
export type Typed = Readonly<Record<Key, string>>

export const keys = Object.keys(plainTyped) as readonly Key[]

/** What is typed, from an address; what it does not name stands as in `start`. Very long texts are cut. */
export function typedOfAddress(params: URLSearchParams, start: Typed): Typed {
  return Object.fromEntries(
    keys.map((key) => [key, params.get(key)?.slice(0, 60) ?? start[key]]),
  ) as unknown as Typed
}

/** The address of a plan: the job, and whatever differs from where its fields started. */
export function addressOfTyped(typed: Typed, start: Typed, job: string | null): URLSearchParams {
  const params = new URLSearchParams()
  if (job !== null) params.set('job', job)
  for (const key of keys) if (typed[key] !== start[key]) params.set(key, typed[key])
  return params
}
