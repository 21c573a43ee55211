import { type Finding, keyAt } from '../finding.ts'

/** What a camera wrote of how a frame was exposed; null where it wrote nothing. */
export interface ExifSettings {
  /** ExposureTime, tag 0x829A. */
  readonly shutterSeconds: number | null
  /** FNumber, tag 0x829D. */
  readonly fNumber: number | null
  /** PhotographicSensitivity, tag 0x8827. */
  readonly iso: number | null
  /** WhiteBalance, tag 0xA403: whether the camera chose it for each frame. */
  readonly whiteBalance: 'auto' | 'manual' | null
  /** LightSource, tag 0x9208: the camera's own number of the light it was set to. */
  readonly lightSource: number | null
  /** FocalLength, tag 0x920A. */
  readonly focalLengthMm: number | null
}

export const noSettings: ExifSettings = {
  shutterSeconds: null,
  fNumber: null,
  iso: null,
  whiteBalance: null,
  lightSource: null,
  focalLengthMm: null,
}

interface SetFrame {
  readonly frame: number
  readonly facts: { readonly settings: ExifSettings }
}

type Setting = 'shutterSeconds' | 'fNumber' | 'iso' | 'whiteBalance' | 'lightSource' | 'focalLengthMm'

/** What makes one frame lighter, warmer or larger than the next, as it is said, and what it is called. */
const settings: readonly {
  readonly of: Setting
  readonly name: string
  readonly text: (value: number | string) => string
}[] = [
  { of: 'shutterSeconds', name: 'The shutter', text: (value) => shutterText(Number(value)) },
  { of: 'fNumber', name: 'The aperture', text: (value) => `f/${formatNumber(Number(value))}` },
  { of: 'iso', name: 'The ISO', text: (value) => `ISO\u00a0${value}` },
  {
    of: 'whiteBalance',
    name: 'The white balance',
    text: (value) => (value === 'auto' ? 'automatic' : 'set by hand'),
  },
  { of: 'lightSource', name: 'The white balance', text: (value) => `light source ${value}` },
  {
    of: 'focalLengthMm',
    name: 'The focal length',
    text: (value) => `${formatNumber(Number(value))}\u00a0mm`,
  },
]

/** More changes of one setting than this are one finding: the camera chooses for itself. */
const saidSingly = 3

/**
 * Settings that change within a take, each named with the frame from which on, and a white balance that is left to the
 * camera. A frame that says nothing of a setting changes nothing.
 */
export function settingsFindings(frames: readonly SetFrame[]): Finding[] {
  const changed = settings.flatMap((setting) => changesOf(frames, setting))
  const isAuto = frames.length > 1 && frames.every(({ facts }) => facts.settings.whiteBalance === 'auto')
  if (!isAuto) return changed
  const sentence =
    'The white balance is left to the camera, which may choose another for each frame. Set it by hand before the next take, and compare the backdrop of this one.'
  return [...changed, { key: 'white balance automatic', frames: [], sentence, fault: null }]
}

function changesOf(frames: readonly SetFrame[], { of, name, text }: (typeof settings)[number]): Finding[] {
  const told = frames.flatMap(({ frame, facts }) => {
    const value = facts.settings[of]
    return value === null ? [] : [{ frame, value }]
  })
  const changes = told.flatMap(({ frame, value }, at) => {
    const before = told[at - 1]
    return before && !isSame(before.value, value) ? [{ frame, from: before.value, to: value }] : []
  })
  const [first] = changes
  if (!first) return []
  const fault = of === 'focalLengthMm' ? null : 'light change'
  if (changes.length > saidSingly) {
    const at = changes.map(({ frame }) => frame)
    const sentence = `${name} changes ${changes.length} times in the take, first from ${text(first.from)} to ${text(first.to)} at frame\u00a0${first.frame}. Set the camera to manual.`
    return [{ key: keyAt(of, first.frame), size: changes.length, frames: at, sentence, fault }]
  }
  return changes.map(({ frame, from, to }) => ({
    key: keyAt(of, frame),
    size: 1,
    frames: [frame],
    sentence: `${name} changes from ${text(from)} to ${text(to)} at frame\u00a0${frame}. Set it back, and shoot the marks from there on again.`,
    fault,
  }))
}

/** Cameras write the same setting as fractions that differ in the last digit. */
function isSame(a: number | string, b: number | string): boolean {
  if (typeof a === 'string' || typeof b === 'string') return a === b
  return Math.abs(a - b) <= 0.005 * Math.max(a, b)
}

/** '1/125 s', '0.5 s', '2 s', as it stands on cameras. */
function shutterText(seconds: number): string {
  return seconds < 0.3 ? `1/${Math.round(1 / seconds)}\u00a0s` : `${formatNumber(seconds)}\u00a0s`
}

function formatNumber(value: number): string {
  return String(Math.round(value * 100) / 100)
}
