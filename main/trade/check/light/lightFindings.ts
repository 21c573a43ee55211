import { type Finding, keyAt } from '../finding.ts'
import type { LightMark, LightParts } from './lightParts.ts'
import type { LightPlace } from './lightSeries.ts'
import { capital, evText, evWords, framesText, placesText } from './lightWords.ts'

/** The light of one place, taken apart. */
export interface AreaLight {
  readonly place: LightPlace
  readonly ev: Float64Array
  readonly parts: LightParts
  /** Whether slow change can be told by it; the product's own turning hides it there. */
  readonly showsDrift: boolean
}

interface PlacedMark extends LightMark {
  readonly places: readonly LightPlace[]
}

/** How much brighter the turn ends than it began, in EV. */
export interface LaterLight {
  /** By what the take is judged by; null where that is not told. */
  readonly seamEv: number | null
  /** The product in the same pose, otherwise than what the take is judged by; 0 where that is not told. */
  readonly productLaterEv: number
}

/** What is found in the light of a take, in words; single frames and steps first, in the order of the frames. */
export function lightFindings(
  areas: readonly AreaLight[],
  limits: { readonly flickerEv: number; readonly driftEv: number; readonly seamEv: number },
  { seamEv, productLaterEv }: LaterLight,
): readonly Finding[] {
  const odd = joined(areas, ({ odd }) => odd, 0)
  const steps = joined(areas, ({ steps }) => steps, 1)
  const flicker = flickerFinding(areas, new Set([...odd, ...steps].map(({ at }) => at)))
  const drift = areas.find(({ parts, showsDrift }) => showsDrift && Math.abs(parts.driftEv) > limits.driftEv)
  const ofProduct = areas.find(({ place }) => place === 'product')?.parts.largestFlickerEv ?? 0
  // A step or a drift of all says why it is, and where it flickers single frames differ as much.
  const productDrifts =
    steps.length === 0 && drift === undefined && Math.abs(productLaterEv) > limits.driftEv + 2 * ofProduct
  const found = [
    ...[...odd.map(oddFinding), ...steps.map(stepFinding)].sort(
      (a, b) => (a.frames[0] ?? 0) - (b.frames[0] ?? 0),
    ),
    ...(flicker ? [flicker] : []),
    ...(drift ? [driftFinding(drift)] : []),
    ...(productDrifts ? [productDriftFinding(productLaterEv)] : []),
  ]
  // What the last frames differ by from the first is no more news where every frame differs as much.
  const flickerEv = flicker ? Math.max(...areas.map(({ parts }) => parts.largestFlickerEv)) : 0
  const isExplained = steps.length > 0 || drift !== undefined
  if (seamEv === null || Math.abs(seamEv) <= limits.seamEv + flickerEv || isExplained) return found
  return [...found, seamFinding(seamEv)]
}

/** Marks of several places that are one event, with the largest figure: where a place is clipped, it shows less. */
function joined(
  areas: readonly AreaLight[],
  marksOf: (parts: LightParts) => readonly LightMark[],
  apart: number,
): readonly PlacedMark[] {
  const events: PlacedMark[] = []
  for (const { place, parts } of areas) {
    for (const mark of marksOf(parts)) {
      const same = events.findIndex(({ at }) => Math.abs(at - mark.at) <= apart)
      const event = events[same]
      if (!event) events.push({ ...mark, places: [place] })
      else {
        const ev = Math.abs(mark.ev) > Math.abs(event.ev) ? mark.ev : event.ev
        events[same] = { at: event.at, ev, places: [...event.places, place] }
      }
    }
  }
  return events.sort((a, b) => a.at - b.at)
}

function oddFinding({ at, ev, places }: PlacedMark): Finding {
  const frame = at + 1
  return {
    key: keyAt('light:odd', frame),
    frames: [frame],
    sentence: `Frame\u00a0${frame} alone is ${evWords(ev)} than those beside it, by ${placesText(places)}: ${oddWhy(ev)} Shoot its mark again.`,
    fault: 'flicker',
  }
}

function oddWhy(ev: number): string {
  return ev < 0
    ? 'a flash that did not fire, or a hand in the picture?'
    : 'another light that was on, or something bright in the picture?'
}

function stepFinding({ at, ev, places }: PlacedMark): Finding {
  const frame = at + 1
  const one = places.length === 1 && places[0] === 'product' ? ' Only the light on the product changed.' : ''
  return {
    key: keyAt('light:step', frame),
    frames: [frame],
    sentence: `From frame\u00a0${frame} on ${placesText(places)} ${isOne(places) ? 'stays' : 'stay'} ${evWords(ev)}: a light moved or died, or a setting changed.${one} Put it right and start over, or level the frames before and after.`,
    fault: 'light change',
  }
}

function isOne(places: readonly LightPlace[]): boolean {
  return places.length === 1
}

/** The frame that differs most comes first: there its mark stands. */
function flickerFinding(areas: readonly AreaLight[], told: ReadonlySet<number>): Finding | null {
  const flickering = areas.flatMap(({ place, parts }) => {
    const marks = parts.flicker.filter(({ at }) => !told.has(at))
    return marks.length > 0 ? [{ place, marks }] : []
  })
  const all = flickering.flatMap(({ marks }) => marks)
  const worst = all.toSorted((a, b) => Math.abs(b.ev) - Math.abs(a.ev))[0]
  if (!worst) return null
  const frames = [...new Set(all.map(({ at }) => at + 1))].sort((a, b) => a - b)
  const places = placesText(flickering.map(({ place }) => place))
  const where = frames.length === 1 ? '' : `, the most in frame\u00a0${worst.at + 1}`
  const one = flickering.every(({ place }) => place === 'product')
    ? ' Only the light on the product does.'
    : ''
  return {
    key: 'light:flicker',
    size: Math.abs(worst.ev),
    frames: [worst.at + 1, ...frames.filter((frame) => frame !== worst.at + 1)],
    sentence: `The light flickers: ${places} ${flickering.length === 1 ? 'differs' : 'differ'} by up to ${evText(worst.ev)} from the frames beside in ${framesText(frames)}${where}.${one} Look at mains lamps with short times, flash that had not recharged, and an aperture that closes for every frame.`,
    fault: 'flicker',
  }
}

function driftFinding({ place, parts }: AreaLight): Finding {
  const frames = parts.driftBetween.map((at) => at + 1)
  return {
    key: 'light:drift',
    size: Math.abs(parts.driftEv),
    frames,
    sentence: `${capital(placesText([place]))} slowly turns ${evWords(parts.driftEv)} from frame\u00a0${frames[0]} to frame\u00a0${frames[1]}: lamps that warm up, or daylight. Let lamps burn in and keep daylight out, or level the frames afterwards.`,
    fault: 'light change',
  }
}

/** The key of the finding that the product's own light is another after the turn. */
export const productDriftKey = 'light:product drift'

function productDriftFinding(ev: number): Finding {
  return {
    key: productDriftKey,
    size: Math.abs(ev),
    frames: [],
    sentence: `After a turn the product is ${evWords(ev)} in the same pose, against what stands still: a lamp of its own that warms up or tires. Let lamps burn in, or level the product’s light afterwards.`,
    fault: 'light change',
  }
}

function seamFinding(seamEv: number): Finding {
  return {
    key: 'light:seam',
    size: Math.abs(seamEv),
    frames: [],
    sentence: `The turn ends ${evWords(seamEv)} than it began, which is seen at the seam. Level the frames, or put the seam where they agree.`,
    fault: 'light change',
  }
}
