import { beforeAll, describe, expect, it } from 'vitest'
import type { FrameTrace } from '../../main/trade/check/frameTrace.ts'
import { lightLimitsOf, lightOf } from '../../main/trade/check/light.ts'
import { traceOf } from '../../main/trade/check/trace.ts'
import { type RenderOptions, randomOf, renderTake, turnAngles } from './render.ts'

/** The limits that a new studio starts from. */
const limits = lightLimitsOf({
  flickerMev: 20,
  lightStepMev: 50,
  driftMev: 100,
  centreUm: 1000,
  marginPpm: 20_000,
})
const framesPerTurn = 48
const kinds = ['unsymmetrical', 'mug', 'can', 'box'] as const

/** A rendered turn and its overlap, with noise, a badly met mark now and then and a highlight that swings through. */
function traced(seed: number, options: Partial<RenderOptions> = {}): readonly FrameTrace[] {
  const next = randomOf(seed)
  const { frames } = renderTake({
    kind: kinds[seed % 4] ?? 'box',
    seed,
    anglesDeg: turnAngles({ framesPerTurn, frames: framesPerTurn + 4, wobbleDeg: 0.3, seed }),
    widthPx: 80,
    heightPx: 60,
    noiseCodes: 0.5 + next() * 1.5,
    highlight: seed % 2,
    offsetMm: next() * 12,
    offsetBearingDeg: next() * 360,
    poseDeg: next() * 360,
    backdropY: seed % 3 === 0 ? 0.18 : 0.75,
    ...options,
  })
  return frames.map((frame) => traceOf(frame))
}

/** The same frames under a light of its own each: what is traced is linear. */
function lit(traces: readonly FrameTrace[], evOf: (index: number) => number): readonly FrameTrace[] {
  return traces.map((trace, index) => {
    const gain = 2 ** evOf(index)
    if (gain === 1) return trace
    const of = (y: number | null) => (y === null ? null : Math.min(1, y * gain))
    return {
      ...trace,
      frameY: trace.frameY * gain,
      backdropY: of(trace.backdropY),
      platterY: of(trace.platterY),
      productY: of(trace.productY),
      thumb: { ...trace.thumb, y: trace.thumb.y.map((y) => Math.min(1, y * gain)) },
    }
  })
}

let rendered: readonly (readonly FrameTrace[])[] = []
beforeAll(() => {
  rendered = Array.from({ length: 12 }, (_, seed) => traced(seed + 1))
}, 60_000)

/** One of the rendered takes, begun at a mark of its own: 200 seeds give 200 takes. */
function randomTake(seed: number) {
  const next = randomOf(seed * 31)
  const whole = rendered[seed % rendered.length] ?? []
  const turn = whole.slice(0, framesPerTurn)
  const from = Math.floor(next() * framesPerTurn)
  const around = [...turn.slice(from), ...turn.slice(0, from)]
  const between = (least: number, most: number) => least + Math.floor(next() * (most - least))
  const size = (least: number) => (least + next() * least) * (next() < 0.5 ? -1 : 1)
  return { traces: around, between, size }
}

const seeds = Array.from({ length: 200 }, (_, seed) => seed + 1)
const check = (traces: readonly (FrameTrace | null)[]) => lightOf(traces, limits, framesPerTurn)
const keys = (traces: readonly (FrameTrace | null)[]) => check(traces).findings.map(({ key }) => key)

describe('the light of a take, over 200 random takes each, half of them with a highlight that swings through', () => {
  it('invents nothing in 200 of 200 clean ones', () => {
    for (const seed of seeds) {
      const { findings, verdict, judgedBy } = check(randomTake(seed).traces)
      expect([seed, findings, verdict.state, judgedBy]).toEqual([seed, [], 'clean', 'backdrop'])
    }
  })

  it('finds a step of 0.08 EV or more at its frame in 200 of 200, and nothing else', () => {
    for (const seed of seeds) {
      const { traces, between, size } = randomTake(seed)
      const at = between(4, framesPerTurn - 4)
      const ev = size(0.08)
      const { findings, verdict } = check(lit(traces, (i) => (i < at ? 0 : ev)))
      expect([seed, findings.map(({ key }) => key)]).toEqual([seed, [`light:step:${at + 1}`]])
      expect(Math.abs((verdict.stepEv ?? 0) - ev)).toBeLessThan(0.03)
    }
  })

  it('finds frames that flicker by 0.05 to 0.1 EV in 200 of 200, and no others', () => {
    for (const seed of seeds) {
      const { traces, between, size } = randomTake(seed)
      const flickering = new Map(Array.from({ length: 3 }, () => [6 * between(1, 7), size(0.05)]))
      const { findings } = check(lit(traces, (i) => flickering.get(i) ?? 0))
      const frames = [...flickering.keys()].map((index) => index + 1).sort((a, b) => a - b)
      expect([seed, findings.map(({ key, fault, frames }) => ({ key, fault, frames }))]).toEqual([
        seed,
        [{ key: 'light:flicker', fault: 'flicker', frames }],
      ])
    }
  })

  it('finds one odd frame of 0.4 EV or more in 200 of 200, a flash that did not fire among them', () => {
    for (const seed of seeds) {
      const { traces, between, size } = randomTake(seed)
      const at = between(0, framesPerTurn)
      const ev = seed % 4 === 0 ? -8 : size(0.4)
      expect([seed, keys(lit(traces, (i) => (i === at ? ev : 0)))]).toEqual([seed, [`light:odd:${at + 1}`]])
    }
  })

  it('finds a drift of 0.2 EV or more in 200 of 200, and takes it for nothing else', () => {
    for (const seed of seeds) {
      const { traces, size } = randomTake(seed)
      const ev = size(0.2)
      expect([seed, keys(lit(traces, (i) => (ev * i) / framesPerTurn))]).toEqual([seed, ['light:drift']])
    }
  })
})

describe('the light of a take', () => {
  const step = (at: number, ev: number) => Array.from({ length: 52 }, (_, i) => (i < at ? 0 : ev))

  it('tells a light on the product alone that died, and one on the backdrop alone', () => {
    // On a backdrop that tells product from surroundings before and after.
    for (const seed of [1, 4]) {
      const product = check(traced(seed, { productEv: step(24, -0.5) }))
      expect([seed, product.findings.map(({ key }) => key)]).toEqual([seed, ['light:step:25']])
      expect(product.findings[0]?.sentence).toMatch(/Only the light on the product changed/)
      expect(product.findings[0]?.fault).toBe('light change')
      const backdrop = check(traced(seed, { backdropEv: step(24, -0.3) }))
      expect(backdrop.findings[0]?.sentence).toMatch(
        /^From frame\s25 on the backdrop stays 0\.3\d?\sEV darker/,
      )
    }
  })

  it('tells flicker of the whole light as rendered, noise, rounding and all', () => {
    const flicker = Array.from({ length: 52 }, (_, i) => (i % 2 === 0 ? 0.06 : -0.06))
    for (const seed of [5, 6]) {
      const { findings } = check(traced(seed, { lightEv: flicker }))
      expect([seed, findings.map(({ key }) => key)]).toEqual([seed, ['light:flicker']])
      expect(findings[0]?.frames.length).toBeGreaterThan(44)
    }
  })

  it('is judged by the platter where the backdrop is clipped, and by most of the picture where neither is told', () => {
    const at = 24
    const clipped = traced(2, { backdropY: 1.4, gradient: 0, lightEv: step(at, -0.2) })
    expect(check(clipped)).toMatchObject({ judgedBy: 'platter', findings: [{ key: `light:step:${at + 1}` }] })
    const bare = lit(rendered[2] ?? [], (i) => (i < at ? 0 : -0.2)).map((trace) => ({
      ...trace,
      backdropY: null,
      platterY: null,
      productY: null,
      silhouette: null,
    }))
    expect(check(bare)).toMatchObject({ judgedBy: 'picture', findings: [{ key: `light:step:${at + 1}` }] })
  })

  it('is told while frames arrive: nothing before the step, the step from its second or third frame on', () => {
    const traces = lit(rendered[0] ?? [], (i) => (i < 20 ? 0 : -0.5))
    for (let frames = 6; frames <= 20; frames++) expect(keys(traces.slice(0, frames))).toEqual([])
    for (let frames = 22; frames <= 52; frames++) {
      expect([frames, keys(traces.slice(0, frames))]).toEqual([frames, ['light:step:21']])
    }
  })

  it('keeps the numbers of its frames where some could not be read', () => {
    const traces = lit(rendered[1] ?? [], (i) => (i === 36 ? -2 : 0)).map((trace, i) =>
      i === 10 || i === 35 ? null : trace,
    )
    expect(keys(traces)).toEqual(['light:odd:37'])
    expect(check(traces).frames[35]).toMatchObject({ frame: 36, luminanceEv: null, changeEv: null })
  })

  it('is compared at the seam by the frames past the turn, once they are there', () => {
    const wave = (i: number) => 0.06 * Math.sin((2 * Math.PI * i) / framesPerTurn / 4)
    const traces = lit(rendered[3] ?? [], wave)
    expect(lightOf(traces.slice(0, 40), limits, framesPerTurn).seamEv).toBeNull()
    expect(lightOf(traces, limits, framesPerTurn).seamEv).toBeCloseTo(wave(framesPerTurn + 1) - wave(1), 2)
    expect(keys(traces)).toEqual(['light:seam'])
  })

  it('says of what it was told, in EV, and of too few frames that they are too few', () => {
    const { verdict, frames } = check(rendered[0] ?? [])
    expect(verdict.sentence).toMatch(
      /^Judged by the backdrop, the light holds within 0\.0\d\sEV from frame to frame \(limit 0\.02\sEV\)/,
    )
    expect(frames).toHaveLength(52)
    expect(Math.abs(frames[7]?.changeEv ?? 1)).toBeLessThan(0.02)
    expect(check((rendered[0] ?? []).slice(0, 4))).toMatchObject({
      verdict: { state: 'unknown', flickerEv: null },
    })
    expect(check([])).toMatchObject({ frames: [], verdict: { state: 'unknown' } })
  })
})
