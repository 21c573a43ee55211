import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { lightLimitsOf } from '../../main/trade/check/light/light.ts'
import { lightParts } from '../../main/trade/check/light/lightParts.ts'
import { randomOf } from './render.ts'

/** The limits that a new studio starts from. */
const limits = lightLimitsOf({
  flickerMev: 20,
  lightStepMev: 50,
  driftMev: 100,
  centreUm: 1000,
  marginPpm: 20_000,
})

/** A clean series: noise of up to 0.004 EV and what a turning product throws on its surroundings, up to 0.04 EV and 0.0035 EV a frame. */
function clean(seed: number) {
  const next = randomOf(seed)
  const frames = 24 + Math.floor(next() * 290)
  const noiseEv = 0.001 + next() * 0.003
  const waveEv = next() * 0.04 * Math.min(1, frames / 72)
  const phase = next() * 7
  const normal = () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next())
  const ev = Array.from(
    { length: frames },
    (_, frame) => noiseEv * normal() + waveEv * Math.sin((2 * Math.PI * frame) / frames + phase),
  )
  const between = (from: number, to: number) => from + Math.floor(next() * (to - from))
  return {
    ev,
    frames,
    noiseEv,
    between,
    size: (least: number) => (least + next() * least) * (next() < 0.5 ? -1 : 1),
  }
}

const seeds = Array.from({ length: 200 }, (_, seed) => seed + 1)

describe('a series of light taken apart, over 200 random series each', () => {
  it('finds nothing in 200 of 200 clean ones', () => {
    for (const seed of seeds) {
      const parts = lightParts(clean(seed).ev, limits)
      expect([seed, parts.odd, parts.steps, parts.flicker]).toEqual([seed, [], [], []])
      expect(Math.abs(parts.driftEv)).toBeLessThan(limits.driftEv)
    }
  })

  it('finds a step of 0.08 EV or more in 200 of 200, at its frame, and nothing else', () => {
    for (const seed of seeds) {
      const { ev, frames, between, size } = clean(seed)
      const at = between(4, frames - 4)
      const stepEv = size(0.08)
      const { steps, odd, flicker, driftEv } = lightParts(
        ev.map((each, i) => each + (i < at ? 0 : stepEv)),
        limits,
      )
      expect([seed, steps.map((step) => step.at), odd, flicker]).toEqual([seed, [at], [], []])
      expect(Math.abs((steps[0]?.ev ?? 0) - stepEv)).toBeLessThan(0.05)
      expect(Math.abs(driftEv)).toBeLessThan(limits.driftEv)
    }
  })

  it('finds one odd frame of 0.4 EV or more in 200 of 200, and nothing else', () => {
    for (const seed of seeds) {
      const { ev, frames, between, size } = clean(seed)
      const at = between(0, frames)
      const oddEv = size(0.4)
      const { steps, odd, flicker } = lightParts(
        ev.map((each, i) => each + (i === at ? oddEv : 0)),
        limits,
      )
      expect([seed, odd.map((mark) => mark.at), steps, flicker]).toEqual([seed, [at], [], []])
    }
  })

  it('finds frames that flicker by 0.04 to 0.08 EV in 200 of 200, and no others', () => {
    for (const seed of seeds) {
      const { ev, frames, between, size } = clean(seed)
      const flickering = new Map(
        Array.from({ length: 3 }, () => [between(3, Math.floor(frames / 6)) * 6, size(0.04)]),
      )
      const { steps, odd, flicker } = lightParts(
        ev.map((each, i) => each + (flickering.get(i) ?? 0)),
        limits,
      )
      expect([seed, flicker.map((mark) => mark.at), odd, steps]).toEqual([
        seed,
        [...flickering.keys()].sort((a, b) => a - b),
        [],
        [],
      ])
    }
  })

  it('finds light that flickers in every frame by 0.03 EV rms in 200 of 200, and takes it for no step', () => {
    for (const seed of seeds) {
      const { ev } = clean(seed)
      const next = randomOf(seed + 999)
      const { steps, odd, flicker } = lightParts(
        ev.map((each) => each + 0.03 * Math.sqrt(12) * (next() - 0.5)),
        limits,
      )
      expect([seed, odd, steps]).toEqual([seed, [], []])
      expect(flicker.length).toBeGreaterThan(ev.length / 6)
    }
  })

  it('finds a drift of 0.2 EV or more in 200 of 200, and takes it for no step and no flicker', () => {
    for (const seed of seeds) {
      const { ev, frames, size } = clean(seed)
      const driftEv = size(0.2)
      const parts = lightParts(
        ev.map((each, i) => each + (driftEv * i) / frames),
        limits,
      )
      expect([seed, parts.odd, parts.steps, parts.flicker]).toEqual([seed, [], [], []])
      expect(Math.abs(parts.driftEv)).toBeGreaterThan(limits.driftEv)
      expect(Math.sign(parts.driftEv)).toBe(Math.sign(driftEv))
    }
  })

  it('takes two frames that flicker the other way on both sides of a place for no step', () => {
    const ev = Array.from({ length: 25 }, (_, i) => (i === 17 ? -0.15 : i === 21 ? 0.15 : 0))
    const { steps, flicker } = lightParts(ev, limits)
    expect([steps, flicker.map(({ at }) => at)]).toEqual([[], [17, 21]])
  })

  it('tells a step and an odd frame in one take apart', () => {
    for (const seed of seeds) {
      const { ev, frames, between } = clean(seed)
      const at = between(6, Math.floor(frames / 2) - 2)
      const odd = between(Math.ceil(frames / 2) + 5, frames - 5)
      const parts = lightParts(
        ev.map((each, i) => each + (i < at ? 0 : 0.3) - (i === odd ? 2 : 0)),
        limits,
      )
      expect([
        seed,
        parts.steps.map((mark) => mark.at),
        parts.odd.map((mark) => mark.at),
        parts.flicker,
      ]).toEqual([seed, [at], [odd], []])
    }
  })
})

describe('a series of light', () => {
  it('says the same whatever the exposure', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.double({ min: -5, max: 5, noNaN: true }),
        (seed, shift) => {
          const { ev } = clean(seed)
          ev[9] = (ev[9] ?? 0) + 1
          const { odd } = lightParts(
            ev.map((each) => each + shift),
            limits,
          )
          expect(odd.map(({ at }) => at)).toEqual([9])
        },
      ),
      { numRuns: 30 },
    )
  })

  it('keeps its numbers where frames were not read', () => {
    const { ev } = clean(7)
    const broken = ev.map((each, i) => (i === 3 || i === 8 ? Number.NaN : each + (i < 12 ? 0 : 0.5)))
    expect(lightParts(broken, limits).steps.map(({ at }) => at)).toEqual([12])
  })

  it('tells a dark frame at once, and a step of its size from its second frame on', () => {
    const level = Array.from({ length: 20 }, () => 0)
    expect(lightParts([...level, -1], limits)).toMatchObject({ odd: [{ at: 20 }], steps: [] })
    expect(lightParts([...level, -1, -1], limits)).toMatchObject({ odd: [], steps: [{ at: 20 }] })
    expect(lightParts([...level, -1, 0], limits)).toMatchObject({ odd: [{ at: 20 }], steps: [] })
    expect(lightParts([...level, -1, -1, 0, 0, 0], limits)).toMatchObject({
      odd: [{ at: 20 }, { at: 21 }],
      steps: [],
    })
  })
})
