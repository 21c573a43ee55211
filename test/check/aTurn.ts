import { luminancesOf } from '../../main/trade/check/light/luminance.ts'
import { closingOf } from '../../main/trade/check/turn/closing.ts'
import { knownTurn } from '../../main/trade/check/turn/knownTurn.ts'
import { stepsOf } from '../../main/trade/check/turn/steps.ts'
import { takeMatches } from '../../main/trade/check/turn/takeMatches.ts'
import { randomOf, renderTake, type SolidKind, turnAngles } from './render.ts'

/** A take shot by hand: flicker of 0.2 EV, marks met within some 3 % of a step, a highlight that swings through, noise. */
export function aTurn(
  kind: SolidKind,
  seed: number,
  faults: 'none' | 'missed' | 'doubled' = 'none',
  overlap = 4,
) {
  const random = randomOf(seed * 131 + kind.length)
  const planned = [36, 40, 48][seed % 3] ?? 36
  const at = 4 + Math.floor(random() * (planned - 9))
  const frames = planned + overlap + (faults === 'missed' ? -1 : faults === 'doubled' ? 1 : 0)
  const { frames: pictures } = renderTake({
    kind,
    seed,
    widthPx: 64,
    heightPx: 48,
    poseDeg: 360 * random(),
    texture: 0.3 + 0.5 * random(),
    highlight: 0.35 * random(),
    noiseCodes: 0.5 + random(),
    offsetMm: (kind === 'can' ? 1 : 6) * random(),
    offsetBearingDeg: 360 * random(),
    lightEv: Array.from({ length: frames }, () => 0.2 * (random() - 0.5)),
    anglesDeg: turnAngles({
      framesPerTurn: planned,
      frames,
      missedAt: faults === 'missed' ? [at] : [],
      twiceAt: faults === 'doubled' ? [at] : [],
      wobbleDeg: (0.02 * 360) / planned,
      seed,
    }),
  })
  const matches = takeMatches(
    pictures.map((picture) => ({
      thumb: { widthPx: picture.widthPx, heightPx: picture.heightPx, y: luminancesOf(picture) },
    })),
  )
  const closing = closingOf(matches, { frames: planned })
  const steps = stepsOf(matches, knownTurn(closing, planned))
  const faultAt = faults === 'none' ? [] : [at + 1]
  return { planned, matches, closing, steps, faultAt }
}
