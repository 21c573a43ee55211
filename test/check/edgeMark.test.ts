import { Matrix, solve } from 'ml-matrix'
import { describe, expect, it } from 'vitest'
import { edgeMarkOf } from '../../main/trade/check/edgeMark/edgeMark.ts'
import { fitMarkCircle, placeOfMark, turnOfMark } from '../../main/trade/check/edgeMark/edgeMarkFit.ts'
import { bandProfile, markPositions } from '../../main/trade/check/edgeMark/edgeMarkSeen.ts'
import { thumbOf } from '../../main/trade/check/outline/trace.ts'
import { closingOf } from '../../main/trade/check/turn/closing.ts'
import { takeMatches } from '../../main/trade/check/turn/takeMatches.ts'
import { gaussians, randomOf } from './render/noise.ts'
import { renderTake, turnAngles } from './render.ts'

const rad = Math.PI / 180

/** Where a mark is seen by geometry alone, while it is on the near side. */
function placesOf(
  anglesDeg: readonly number[],
  { radius = 200, nearness = 0.15, startDeg = 0, noisePx = 0, seed = 1, sign = 1 } = {},
): (number | null)[] {
  const noise = gaussians(seed)
  return anglesDeg.map((angle, frame) => {
    const t = (angle + startDeg) * rad
    if (Math.cos(t) < 0.3) return null
    return 256 + (sign * radius * Math.sin(t)) / (1 - nearness * Math.cos(t)) + noisePx * noise.at(frame)
  })
}

describe('the circle of a mark', () => {
  it('is the published least-squares fit where the camera is far away', () => {
    // Fit of x = c + a·cos θ + b·sin θ over a part turn, 0 to 120° by 15: 640 − 7 cos θ + 2 sin θ is 640, amplitude
    // 7.280109889; recomputed in two ways.
    const seen = Array.from({ length: 9 }, (_, i) => {
      const angle = i * 15 * rad
      return { angle, xPx: 640 - 7 * Math.cos(angle) + 2 * Math.sin(angle) }
    })
    const circle = fitMarkCircle(seen)
    expect(circle?.centrePx).toBeCloseTo(640, 5)
    expect(Math.abs(circle?.radiusPx ?? 0)).toBeCloseTo(7.280109889, 5)
    expect(circle?.nearness).toBeCloseTo(0, 5)
  })

  it('leaves no smaller misfit to a least-squares library around it', () => {
    const seen = placesOf(
      Array.from({ length: 40 }, (_, i) => -60 + 3 * i),
      { noisePx: 0.5 },
    ).flatMap((xPx, i) => (xPx === null ? [] : [{ angle: (-60 + 3 * i) * rad, xPx }]))
    const circle = fitMarkCircle(seen)
    if (!circle) throw new Error('no circle')
    const { radiusPx, nearness, phase } = circle
    const rows = seen.map(({ angle }) => {
      const t = angle - phase
      const depth = 1 - nearness * Math.cos(t)
      return [
        1,
        Math.sin(t) / depth,
        (-radiusPx * (Math.cos(t) - nearness)) / depth ** 2,
        (radiusPx * Math.sin(t) * Math.cos(t)) / depth ** 2,
      ]
    })
    const off = seen.map(({ angle, xPx }) => [xPx - placeOfMark(circle, angle)])
    // At the best fit the library's own step from it is nothing.
    const step = solve(new Matrix(rows), new Matrix(off)).to1DArray()
    expect(Math.abs(step[0] ?? 1)).toBeLessThan(0.01)
    expect(Math.abs(step[1] ?? 1)).toBeLessThan(0.05)
    expect(Math.abs(step[2] ?? 1)).toBeLessThan(1e-4)
    expect(Math.abs(step[3] ?? 1)).toBeLessThan(1e-4)
  })

  it('is told back from its places', () => {
    const circle = { centrePx: 256, radiusPx: -180, nearness: 0.2, phase: 0.4 }
    for (let t = -1.2; t <= 1.2; t += 0.1) {
      expect(turnOfMark(circle, placeOfMark(circle, t + 0.4))).toBeCloseTo(t, 9)
    }
  })
})

describe('the angles by a mark on the edge, over 200 random takes each', () => {
  const seeds = Array.from({ length: 200 }, (_, seed) => seed + 1)
  const randomTake = (seed: number, slip: 'none' | 'missed' | 'twice') => {
    const next = randomOf(seed)
    const framesPerTurn = 36 + Math.floor(next() * 270)
    const frames = Math.ceil(framesPerTurn * 1.35)
    const at = 2 + Math.floor(next() * (framesPerTurn - 4))
    const anglesDeg = turnAngles({
      framesPerTurn,
      frames,
      missedAt: slip === 'missed' ? [at] : [],
      twiceAt: slip === 'twice' ? [at] : [],
      wobbleDeg: (0.04 * 360) / framesPerTurn,
      seed,
    })
    const places = placesOf(anglesDeg, {
      // A person begins with the mark in sight.
      startDeg: -60 + next() * 80,
      radius: 120 + next() * 110,
      nearness: next() * 0.25,
      noisePx: 0.1,
      seed: seed + 5000,
      sign: next() < 0.5 ? -1 : 1,
    })
    return { framesPerTurn, at, anglesDeg, places, frames }
  }

  it('finds no slip in 200 of 200 clean takes, and the frame that closes the turn in 200 of 200', () => {
    for (const seed of seeds) {
      const { framesPerTurn, places, anglesDeg } = randomTake(seed, 'none')
      const mark = edgeMarkOf(places, framesPerTurn)
      expect([seed, mark.slips, mark.findings]).toEqual([seed, [], []])
      expect([seed, mark.closingFrame]).toEqual([seed, framesPerTurn + 1])
      expect(mark.confidence).toBeGreaterThan(0.99)
      const worst = Math.max(
        ...anglesDeg.map((angle, i) => Math.abs(angle - (anglesDeg[0] ?? 0) - (mark.anglesDeg?.[i] ?? 0))),
      )
      // Within half a step everywhere, hidden frames too.
      expect([seed, worst < 180 / framesPerTurn]).toEqual([seed, true])
    }
  })

  it('finds a mark passed over in 200 of 200, at its frame where it is seen, and the turn one frame shorter', () => {
    for (const seed of seeds) {
      const { framesPerTurn, at, places } = randomTake(seed, 'missed')
      const { slips, closingFrame } = edgeMarkOf(places, framesPerTurn)
      expect([seed, slips.length, slips[0]?.steps]).toEqual([seed, 1, 1])
      expect([seed, (slips[0]?.from ?? 0) <= at && (slips[0]?.to ?? 0) >= at + 1]).toEqual([seed, true])
      if (
        places[at - 1] !== null &&
        places[at] !== null &&
        (slips[0]?.to ?? 0) - (slips[0]?.from ?? 0) === 1
      ) {
        expect([seed, slips[0]?.to]).toEqual([seed, at + 1])
      }
      expect([seed, closingFrame]).toEqual([seed, framesPerTurn])
    }
  })

  it('finds a mark shot twice in 200 of 200, and the turn one frame longer', () => {
    for (const seed of seeds) {
      const { framesPerTurn, at, places } = randomTake(seed, 'twice')
      const { slips, closingFrame } = edgeMarkOf(places, framesPerTurn)
      expect([seed, slips.length, slips[0]?.steps]).toEqual([seed, 1, -1])
      expect([seed, (slips[0]?.from ?? 0) <= at && (slips[0]?.to ?? 0) >= at + 1]).toEqual([seed, true])
      expect([seed, closingFrame]).toEqual([seed, framesPerTurn + 2])
    }
  })
})

describe('a mark on the edge', () => {
  it('says that a turn ends between two marks', () => {
    // A step of 1.51° closes after 238.41 frames.
    const places = placesOf(
      Array.from({ length: 330 }, (_, i) => i * 1.51),
      { startDeg: 40, noisePx: 0.1 },
    )
    const { framesPerTurn, findings } = edgeMarkOf(places, 240)
    expect(framesPerTurn).toBeCloseTo(360 / 1.51, 0)
    expect(findings.map(({ sentence }) => sentence).join(' ')).toMatch(/not 240/)
  })

  it('tells no closing before the turn has closed, and nothing of a mark that is not seen', () => {
    const places = placesOf(turnAngles({ framesPerTurn: 120, frames: 60 }))
    expect(edgeMarkOf(places, 120)).toMatchObject({ closingFrame: null, confidence: null, slips: [] })
    expect(
      edgeMarkOf(
        places.map(() => null),
        120,
      ),
    ).toMatchObject({ anglesDeg: null, findings: [{ key: 'edgeMark:unseen', fault: null }] })
  })

  it('closes the turn of a plain bottle that no picture could close, with a step missed', () => {
    const angles = turnAngles({ framesPerTurn: 72, frames: 96, missedAt: [5], wobbleDeg: 0.2 })
    const { frames } = renderTake({
      kind: 'can',
      texture: 0,
      edgeMark: true,
      anglesDeg: angles,
      widthPx: 160,
      heightPx: 120,
      noiseCodes: 1.5,
      lightEv: angles.map((_, i) => 0.1 * Math.sin(i)),
      camera: { fieldWidthMm: 400 },
    })
    const markIn = (top: number, bottom: number) => {
      const band = { left: 0.03, top, right: 0.97, bottom }
      return edgeMarkOf(markPositions(frames.map((frame) => bandProfile(frame, band))), 72)
    }
    // Drawn along the near edge of the platter, as a person would.
    const mark = markIn(0.69, 0.82)
    expect(mark.slips).toEqual([{ from: 5, to: 6, steps: 1 }])
    expect(mark.closingFrame).toBe(72)
    const worst = Math.max(
      ...angles.flatMap((angle, i) =>
        mark.isMeasured[i] ? [Math.abs(angle - (angles[0] ?? 0) - (mark.anglesDeg?.[i] ?? 0))] : [],
      ),
    )
    expect(worst).toBeLessThan(1)
    // Drawn too high, so that the nearest stretch is cut off: nothing is made up of the rest.
    expect(markIn(0.68, 0.76)).toMatchObject({ anglesDeg: null, slips: [], closingFrame: null })
    // Drawn over the backdrop: nothing is made up.
    expect(markIn(0.05, 0.3)).toMatchObject({ anglesDeg: null, slips: [] })
  })
})

describe('the closing by an edge mark', () => {
  it('closes a can, which no picture closes, at the frame where the mark comes round', () => {
    const closedWith = (faults: Parameters<typeof turnAngles>[0]) => {
      const anglesDeg = turnAngles({ ...faults, frames: 40 })
      const { frames } = renderTake({ kind: 'can', anglesDeg, widthPx: 64, heightPx: 48 })
      const mark = edgeMarkOf(placesOf(anglesDeg), 36)
      const matches = takeMatches(frames.map((small) => thumbOf(small)))
      return closingOf(matches, { frames: 36, anglesDeg: mark.anglesDeg })
    }
    expect(closedWith({ framesPerTurn: 36 })).toMatchObject({ by: 'edge mark', framesPerTurn: 36 })
    expect(closedWith({ framesPerTurn: 36, missedAt: [5] })).toMatchObject({ framesPerTurn: 35 })
    expect(closedWith({ framesPerTurn: 36, twiceAt: [5] })).toMatchObject({ framesPerTurn: 37 })
  })
})
