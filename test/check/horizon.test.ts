import { describe, expect, it } from 'vitest'
import type { FrameTrace } from '../../main/trade/check/frameTrace.ts'
import { axisLeanOf, leanBetween } from '../../main/trade/check/outline/horizon.ts'
import { horizonOf, leanText } from '../../main/trade/check/outline/horizonWords.ts'
import { silhouetteOf } from '../../main/trade/check/outline/silhouette.ts'
import { randomOf, renderTake, type SolidKind, turnAngles } from './render.ts'

const kinds: readonly SolidKind[] = ['unsymmetrical', 'mug', 'box', 'can']
const framesPerTurn = 36

/** Outlines of a turn seen by a camera that is turned clockwise by `rollDeg`: the picture leans the other way. */
function outlinesOf(kind: SolidKind, rollDeg: number, seed: number, frames = framesPerTurn) {
  const random = randomOf(seed)
  const take = renderTake({
    kind,
    seed,
    widthPx: 200,
    heightPx: 150,
    anglesDeg: turnAngles({ framesPerTurn }).slice(0, frames),
    offsetMm: 3 * random(),
    noiseCodes: 1.5,
    camera: { rollDeg, lateralMm: 6 * random() - 3 },
  })
  return take.frames.map((frame) => silhouetteOf(frame))
}

describe('the horizon', () => {
  it('is told by the axis of the turn within its error bar, in 24 random takes of every kind of solid', {
    timeout: 120_000,
  }, () => {
    const random = randomOf(11)
    for (let seed = 1; seed <= 24; seed++) {
      const rollDeg = 3 * random() - 1.5
      const lean = axisLeanOf(outlinesOf(kinds[seed % 4] ?? 'can', rollDeg, seed), 200)
      expect(Math.abs((lean?.leanDeg ?? Number.NaN) + rollDeg)).toBeLessThanOrEqual(lean?.errorDeg ?? 0)
      expect(lean?.errorDeg).toBeLessThan(1)
    }
  })

  it('is told against the approved frame in the same pose to 0.3°', () => {
    const random = randomOf(12)
    for (let seed = 1; seed <= 24; seed++) {
      const kind = kinds[seed % 4] ?? 'can'
      const rollDeg = 3 * random() - 1.5
      const [approved] = outlinesOf(kind, 0, seed, 1)
      const [newest] = outlinesOf(kind, rollDeg, seed + 100, 1)
      if (!approved || !newest) throw new Error('A rendered product has no outline.')
      const lean = leanBetween(approved, newest)
      expect(Math.abs((lean?.leanDeg ?? Number.NaN) + rollDeg)).toBeLessThan(0.3)
    }
  })

  it('is not told where too little of the turn or of the product is seen', () => {
    expect(axisLeanOf(outlinesOf('mug', 0, 1, 6), 200)).toBeNull()
    expect(axisLeanOf([null, null], 200)).toBeNull()
    const [box] = outlinesOf('unsymmetrical', 0, 1, 1)
    const another = outlinesOf('unsymmetrical', 0, 1)[5]
    if (!box || !another) throw new Error('A rendered product has no outline.')
    expect(leanBetween(box, another)).toBeNull()
  })

  it('is found against another row only where it leans more than both bars and the limit', () => {
    const traces = outlinesOf('mug', -1, 3).map(
      (silhouette) => ({ silhouette, widthPx: 200 }) as unknown as FrameTrace,
    )
    const against = (leanDeg: number) =>
      horizonOf({ framesPerTurn, otherRows: [{ row: 2, lean: { leanDeg, errorDeg: 0.25 } }] }, traces)
    expect(against(1).findings).toEqual([])
    const { findings, verdict } = against(0)
    expect(verdict.state).toBe('found')
    expect(findings[0]?.sentence).toMatch(/^The picture leans (0\.[7-9]|1\.[0-3])° clockwise against row 2\./)
    expect(horizonOf({ framesPerTurn: 72, otherRows: [] }, traces).verdict.state).toBe('unknown')
  })

  it('is said to lean one way only where it leans as far as it is written', () => {
    expect([0.34, -0.06, 0.04, -0.04, 0].map((leanDeg) => leanText({ leanDeg }))).toEqual([
      '0.3° clockwise',
      '0.1° counter-clockwise',
      '0.0°',
      '0.0°',
      '0.0°',
    ])
  })
})
