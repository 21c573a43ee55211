import { describe, expect, it } from 'vitest'
import { samePictures } from '../../main/trade/check/turn/samePicture.ts'
import { closingVerdict, stepsVerdict } from '../../main/trade/check/turn/turnFindings.ts'
import { aTurn } from './aTurn.ts'

const bodies = ['unsymmetrical', 'mug', 'box'] as const
const seeds = Array.from({ length: 17 }, (_, seed) => seed + 1)

describe('the turn of a clean take and of a can, over 98 of 200 random takes', () => {
  it('closes all of 51 clean takes, and invents nothing', () => {
    const takes = bodies.flatMap((kind) => seeds.map((seed) => aTurn(kind, seed + 40)))
    const closed = takes.filter(
      ({ closing, planned }) => closing.framesPerTurn === planned && closing.by === 'picture',
    )
    const invented = takes.flatMap(({ steps }) => [...steps.missed, ...steps.doubled, ...steps.odd])
    const same = takes.flatMap(({ matches, steps }) => samePictures(matches, steps.doubled))
    expect(closed.length).toBe(51)
    expect([invented, same]).toEqual([[], []])
  }, 60_000)

  it('closes no can by picture, and judges no step of it: 47 takes', () => {
    for (let seed = 1; seed <= 47; seed++) {
      const { closing, planned, steps } = aTurn('can', seed, seed % 2 === 0 ? 'missed' : 'doubled')
      expect(closing).toMatchObject({ by: 'count', reason: 'alike', framesPerTurn: planned })
      expect([...steps.missed, ...steps.doubled]).toEqual([])
      expect(stepsVerdict(steps).sentence).toContain('looks alike all round')
      expect(closingVerdict(closing, planned)).toMatchObject({ state: 'unknown', confidence: null })
    }
  }, 60_000)
})
