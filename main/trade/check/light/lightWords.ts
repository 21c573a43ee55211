import { formatDecimal } from '../../decimal.ts'
import type { LightPlace } from './lightSeries.ts'

/** '0.32 EV': without a sign, to hundredths. */
export function evText(ev: number): string {
  return `${formatDecimal(Math.round(Math.abs(ev) * 100), 2, 2)}\u00a0EV`
}

/** What holds within so much: rounded up, so that it is never said to hold within less than it does. */
function withinText(ev: number): string {
  return evText(Math.max(0.01, Math.ceil(Math.abs(ev) * 100 - 1e-6) / 100))
}

/** '0.32 EV darker'. */
export function evWords(ev: number): string {
  return `${evText(ev)} ${ev < 0 ? 'darker' : 'brighter'}`
}

const placeWords: Readonly<Record<LightPlace, string>> = {
  backdrop: 'the backdrop',
  platter: 'the platter',
  product: 'the product',
  picture: 'what stands still in the picture',
}

/** 'the backdrop and the platter'. */
export function placesText(places: readonly LightPlace[]): string {
  return listText(places.map((place) => placeWords[place]))
}

/** 'frame 7', 'frames 7, 9 and 12', 'frames 7, 9, 12, 15 and in 20 more'. */
export function framesText(frames: readonly number[]): string {
  const named = frames.length > 6 ? frames.slice(0, 4) : frames
  const rest = frames.length - named.length
  const list = listText([...named.map(String), ...(rest > 0 ? [`in ${rest} more`] : [])])
  return `frame${frames.length === 1 ? '' : 's'}\u00a0${list}`
}

export function capital(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`
}

function listText(items: readonly string[]): string {
  return items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`
}

/** What is said of a take in whose light nothing was found. */
export function cleanLight(
  place: LightPlace,
  { flickerEv, driftEv }: { readonly flickerEv: number; readonly driftEv: number },
  limits: { readonly flickerEv: number; readonly driftEv: number },
  seamEv: number | null,
  hasTurned: boolean,
): string {
  const by =
    place === 'picture'
      ? 'Judged by what stands still in the picture, since neither backdrop nor platter tells the light, it'
      : `Judged by ${placeWords[place]}, the light`
  const seam = seamEv === null ? '' : ` The last frame is within ${withinText(seamEv)} of the first.`
  return `${by} holds within ${withinText(flickerEv)} from frame to frame (limit ${evText(limits.flickerEv)}) and ${withinText(driftEv)} ${hasTurned ? 'over the take' : 'so far'} (limit ${evText(limits.driftEv)}).${seam}`
}

export function tooFewForLight(read: number, least: number): string {
  return `The light is judged from ${least}\u00a0frames on; ${read === 0 ? 'none' : read} ${read < 2 ? 'is' : 'are'} read.`
}

/** Of pictures in which nothing that stands still tells light, or what does is too noisy. */
export function noLightTold(place: LightPlace | null): string {
  return place === null
    ? 'The light cannot be told by these pictures: what stands still in them is clipped or black, or the frames differ in size.'
    : `The light cannot be told by these pictures: ${placeWords[place]} is too noisy or does not stand still.`
}

export const productNotTold =
  'Whether the light on the product alone changed cannot be told: turning changes it as much from frame to frame.'

export const productDriftNotTold =
  'Whether the light on the product alone slowly changed is told by two frames past the turn, in the same pose as the first: this take has none to tell it by.'
