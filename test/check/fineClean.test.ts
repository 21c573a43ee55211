import { describe, expect, it } from 'vitest'
import { closingOf } from '../../main/trade/check/turn/closing.ts'
import { knownTurn } from '../../main/trade/check/turn/knownTurn.ts'
import { samePictures } from '../../main/trade/check/turn/samePicture.ts'
import { stepsOf } from '../../main/trade/check/turn/steps.ts'
import { takeMatches } from '../../main/trade/check/turn/takeMatches.ts'
import { aFineTurn } from './aFineTake.ts'

const kinds = ['unsymmetrical', 'box', 'mug'] as const

describe('clean turns of 240 frames, shot with flicker and noise', () => {
  it('closes all of 14 at the right frame, and finds fault with no step', () => {
    for (let seed = 1; seed <= 14; seed++) {
      const kind = kinds[seed % 3] ?? 'box'
      const planned = seed % 6 === 0 ? 180 : 240
      const { clean } = aFineTurn(kind, 300 + seed, { planned, widthPx: 64 })
      const matches = takeMatches(clean, planned)
      const closing = closingOf(matches, { frames: planned })
      const steps = stepsOf(matches, knownTurn(closing, planned))
      expect([seed, closing.by, closing.framesPerTurn]).toEqual([seed, 'picture', planned])
      expect([seed, ...steps.missed, ...steps.doubled, ...steps.odd]).toEqual([seed])
      expect(samePictures(matches, steps.doubled)).toEqual([])
      // Before the turn has closed nothing but the steps themselves speaks for a fault.
      const early = stepsOf(takeMatches(clean.slice(0, 150), planned))
      expect([seed, ...early.missed, ...early.doubled, ...early.odd]).toEqual([seed])
    }
  }, 120_000)

  it('closes no can by picture, and judges no step of it', () => {
    for (const seed of [1, 2]) {
      const { clean } = aFineTurn('can', seed, { widthPx: 64, offsetMm: 1 })
      const matches = takeMatches(clean, 240)
      const closing = closingOf(matches, { frames: 240 })
      expect(closing).toMatchObject({ by: 'count', reason: 'alike', framesPerTurn: 240 })
      const steps = stepsOf(matches, knownTurn(closing, 240))
      expect([...steps.missed, ...steps.doubled, ...steps.odd]).toEqual([])
    }
  }, 60_000)
})
