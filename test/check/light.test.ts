import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type { FrameTrace } from '../../main/trade/check/frameTrace.ts'
import { lightLimitsOf, lightOf } from '../../main/trade/check/light/light.ts'
import { traceOf } from '../../main/trade/check/outline/trace.ts'
import { checkPicture } from '../../main/work/checkPicture.ts'
import { aTakeOfJpegs } from './aTakeOfJpegs.ts'
import { type RenderOptions, randomOf, renderTake, turnAngles } from './render.ts'

/** The limits that a new studio starts from. */
const limits = lightLimitsOf({
  flickerMev: 20,
  lightStepMev: 50,
  driftMev: 100,
  centreUm: 1000,
  marginPpm: 20_000,
})
const framesPerTurn = 36
const check = (traces: readonly (FrameTrace | null)[], turn = framesPerTurn) => lightOf(traces, limits, turn)
const marks = (traces: readonly (FrameTrace | null)[], turn = framesPerTurn) =>
  check(traces, turn).findings.map(({ key, frames }) => [key, frames[0]])

/** What a key with the size of its finding is about. */
/** Marks of the turn, and the light in EV of each frame that is shot there. */
type Shots = readonly { readonly at: number; readonly ev: number }[]

/** One scene, of which any frame can be shot under any light; every second one has a highlight that swings through. */
function aScene(seed: number, set: Partial<RenderOptions> = {}) {
  const next = randomOf(seed)
  const between = (least: number, most: number) => least + next() * (most - least)
  const frames = Math.round(24 * 3 ** (between(0, 1) ** 2))
  const angles = turnAngles({ framesPerTurn: frames, wobbleDeg: 0.3, seed })
  const options: Partial<RenderOptions> = {
    kind: (['box', 'can', 'mug', 'unsymmetrical'] as const)[seed % 4] ?? 'box',
    seed,
    widthPx: 64,
    heightPx: 48,
    turns: seed % 5 < 2 ? 'counter-clockwise' : 'clockwise',
    noiseCodes: between(0.3, 2.2),
    highlight: seed % 2 === 0 ? 0 : between(0.3, 1.1),
    offsetMm: between(0, 14),
    offsetBearingDeg: between(0, 360),
    poseDeg: between(0, 360),
    size: between(0.85, 1.1),
    // White that clips from half a stop on, grey and dark.
    backdropY: [0.7, 0.4, 0.2, 0.06, 0.025][Math.floor(between(0, 5))] ?? 0.7,
    platterY: [0.6, 0.45, 0.15][Math.floor(between(0, 3))] ?? 0.6,
    gradient: between(0, 0.1),
    productY: between(0.15, 0.65),
    texture: next(),
    ...set,
  }
  const shoot = (shots: Shots) =>
    renderTake({
      ...options,
      anglesDeg: shots.map(({ at }) => angles[at] ?? 0),
      lightEv: shots.map(({ ev }) => ev),
    }).frames.map((frame) => traceOf(frame))
  const every = Array.from({ length: frames }, (_, at) => ({ at, ev: 0 }))
  const clean = shoot(every)
  /** The clean take with some of its frames shot under another light. */
  const lit = (shots: Shots) => {
    const traces = shoot(shots)
    const all = [...clean]
    for (const [index, { at }] of shots.entries()) all[at] = traces[index] ?? traceOf(never())
    return all
  }
  const size = (least: number) => between(least, 2 * least) * (next() < 0.5 ? -1 : 1)
  return {
    frames,
    clean,
    lit,
    size,
    whole: (least: number, most: number) => Math.floor(between(least, most)),
  }
}

function never(): never {
  throw new Error('A frame that was shot has no trace.')
}

describe('the light of 200 random takes: 20 rendered scenes of 24 to 72 frames, each under ten lights', () => {
  // None of these seeds was looked at while the rules were made.
  const scenes = Array.from({ length: 20 }, (_, index) => index + 70_001)

  it.each(scenes)('is told in scene %i: nothing invented, and everything found where it is', (seed) => {
    const { frames, clean, lit, size, whole } = aScene(seed)
    expect(check(clean, frames)).toMatchObject({ findings: [], verdict: { state: 'clean' } })
    for (const sign of [1, -1]) {
      const from = whole(frames * 0.8, frames - 3)
      const ev = sign * Math.abs(size(0.1))
      const stepped = lit(Array.from({ length: frames - from }, (_, i) => ({ at: from + i, ev })))
      expect([ev, marks(stepped, frames)]).toEqual([ev, [[`light:step @${from + 1}`, from + 1]]])
    }
    for (let take = 0; take < 3; take++) {
      const worst = 6 * whole(1, frames / 6 - 1)
      const shots = [...new Set([6, 12, 6 * Math.floor(frames / 6 - 1), worst])].map((at) => ({
        at,
        ev: at === worst ? size(0.11) : size(0.05),
      }))
      const flickering = check(lit(shots), frames).findings
      expect(flickering.map(({ key, frames: named }) => [key, named[0], new Set(named)])).toEqual([
        ['light:flicker', worst + 1, new Set(shots.map(({ at }) => at + 1))],
      ])
    }
    for (let take = 0; take < (seed % 2 === 0 ? 4 : 3); take++) {
      const at = whole(0, frames)
      const ev = take === 0 ? -8 : size(0.4)
      expect([ev, marks(lit([{ at, ev }]), frames)]).toEqual([ev, [[`light:odd @${at + 1}`, at + 1]]])
    }
    if (seed % 2 === 0) return
    const driftEv = size(0.2)
    const drifting = lit(clean.map((_, at) => ({ at, ev: (driftEv * at) / (frames - 1) })))
    expect([driftEv, marks(drifting, frames).map(([key]) => key)]).toEqual([driftEv, ['light:drift']])
  })
})

describe('the light of a take', () => {
  const turn = (options: Partial<RenderOptions>, frames = framesPerTurn) =>
    renderTake({
      widthPx: 96,
      heightPx: 72,
      anglesDeg: turnAngles({ framesPerTurn: frames }),
      ...options,
    }).frames.map((frame) => traceOf(frame))
  const from = (at: number, ev: number) => Array.from({ length: 40 }, (_, i) => (i < at ? 0 : ev))
  const clean = turn({ seed: 81_001 })

  it('holds in a clean take that was written as JPEG and read from its files', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'light-'))
    try {
      const jpegs = await aTakeOfJpegs({ framesPerTurn: 24, frames: 24, lightEv: [] })
      jpegs.forEach((bytes, at) => {
        writeFileSync(join(folder, `${at}.jpg`), bytes)
      })
      const pictures = await Promise.all(jpegs.map((_, at) => checkPicture(folder, [`${at}.jpg`])))
      const traces = pictures.map(({ small }) => small && traceOf(small))
      expect(check(traces, 24)).toMatchObject({
        findings: [],
        judgedBy: 'backdrop',
        verdict: { state: 'clean' },
      })
    } finally {
      rmSync(folder, { recursive: true })
    }
  })

  it('has one key for flicker of any size and tells how large it is', () => {
    const told = (flickerEv: number) =>
      check(
        turn({ seed: 81_001, lightEv: clean.map((_, at) => (at % 6 === 3 ? flickerEv : 0)) }),
      ).findings.map(({ key, size }) => [key, Math.round(100 * (size ?? 0)) / 100])
    expect(told(0.05)).toEqual([['light:flicker', 0.05]])
    expect(told(0.1)).toEqual([['light:flicker', 0.1]])
  })

  it('tells a light on the product alone that died, before a white, a grey and a dark backdrop', () => {
    for (const backdropY of [0.8, 0.2, 0.03]) {
      const dimmed = check(turn({ seed: 81_002, kind: 'mug', backdropY, productEv: from(18, -1) }))
      expect([backdropY, dimmed.findings.map(({ key }) => key)]).toEqual([backdropY, ['light:step @19']])
      expect(dimmed.findings[0]?.sentence).toMatch(/Only the light on the product changed/)
    }
  })

  describe.each(['box', 'can', 'mug', 'unsymmetrical'] as const)('of a %s with a lamp of its own', (kind) => {
    const overlap = 2
    const own = (seed: number, productEv: (frame: number, random: () => number) => number) => {
      const random = randomOf(seed)
      return turn({
        seed,
        kind,
        anglesDeg: turnAngles({ framesPerTurn, frames: framesPerTurn + overlap, wobbleDeg: 0.2, seed }),
        highlight: seed % 2 === 0 ? 0.6 : 0,
        productEv: Array.from({ length: framesPerTurn + overlap }, (_, frame) => productEv(frame, random)),
      })
    }

    it('tells that it flickers, from a fifth of a stop, or slowly changes, from a third, and nothing where it holds', () => {
      for (const seed of [82_001, 82_002]) {
        const flickering = own(seed, (_, random) => 0.4 * (random() - 0.5))
        expect(marks(flickering).map(([key]) => key)).toEqual(['light:flicker'])
        expect(check(flickering).findings[0]?.sentence).toMatch(
          /the product differs by .* Only the light on the product/,
        )
        for (const driftEv of [0.35, -0.35]) {
          const drifting = own(seed, (frame) => (driftEv * frame) / (framesPerTurn - 1))
          expect(marks(drifting).map(([key]) => key)).toEqual(['light:product drift'])
        }
        expect(check(own(seed, () => 0))).toMatchObject({ findings: [], unevenFrames: [] })
      }
    })
  })

  it('says that a slow change on the product alone cannot be told without frames past the turn', () => {
    expect(check(clean).unknown).toEqual([expect.stringMatching(/told by two frames past the turn/)])
  })

  it('finds an odd frame of light so bright that the backdrop clips, by the platter', () => {
    const flash = (ev: number) =>
      turn({
        seed: 81_006,
        backdropY: 0.93,
        platterY: 0.4,
        lightEv: Array.from({ length: framesPerTurn }, (_, i) => (i === 20 ? ev : 0)),
      })
    for (const ev of [0.4, 0.8, 1.2]) expect([ev, marks(flash(ev))]).toEqual([ev, [['light:odd @21', 21]]])
  })

  it('finds a step of a backdrop that clips from there on', () => {
    const traces = turn({ seed: 81_007, backdropY: 0.9, backdropEv: from(7, 0.4) })
    expect(check(traces).judgedBy).toBe('platter')
    expect(marks(traces)).toEqual([['light:step @8', 8]])
  })

  it('says where the light on product and backdrop changed apart, and not where it changed for all', () => {
    expect(check(turn({ seed: 81_008, backdropEv: from(18, -0.3) })).unevenFrames).toEqual([19])
    expect(check(turn({ seed: 81_008, kind: 'mug', productEv: from(18, -1) })).unevenFrames).toEqual([19])
    expect(check(turn({ seed: 81_008, kind: 'mug', lightEv: from(18, -0.4) })).unevenFrames).toEqual([])
  })

  it('says so where light on the product alone cannot be told, and finds nothing by it', () => {
    const unseen = clean.map((trace) => ({ ...trace, productY: null, silhouette: null }))
    expect(check(unseen).findings).toEqual([])
    expect(check(unseen).unknown).toEqual([expect.stringMatching(/product alone changed cannot be told/)])
  })

  it('is judged by the platter where the backdrop is clipped, and cannot be told where nothing still tells it', () => {
    const clipped = { backdropY: 1.4, gradient: 0, lightEv: from(18, -0.2) }
    expect(check(turn(clipped))).toMatchObject({ judgedBy: 'platter', findings: [{ key: 'light:step @19' }] })
    const white = check(turn({ backdropY: 1.4, gradient: 0, platterY: null }))
    expect(white).toMatchObject({ judgedBy: null, findings: [], verdict: { state: 'unknown' } })
    expect(white.verdict.sentence).toMatch(/cannot be told by these pictures/)
  })

  it('is told while frames arrive: nothing before the step, the step from its second frame on', () => {
    const stepped = turn({ seed: 81_003, lightEv: from(16, -0.5) })
    for (let frames = 6; frames <= 16; frames++) expect(marks(stepped.slice(0, frames))).toEqual([])
    for (let frames = 18; frames <= framesPerTurn; frames++) {
      expect([frames, marks(stepped.slice(0, frames))]).toEqual([frames, [['light:step @17', 17]]])
    }
  })

  it('keeps the numbers of its frames where some could not be read', () => {
    const lightEv = Array.from({ length: framesPerTurn }, (_, i) => (i === 26 ? -2 : 0))
    const traces = turn({ seed: 81_004, lightEv }).map((trace, i) => (i === 10 || i === 25 ? null : trace))
    expect(marks(traces)).toEqual([['light:odd @27', 27]])
    expect(check(traces).frames[25]).toMatchObject({ frame: 26, luminanceEv: null, changeEv: null })
  })

  it('is compared at the seam once the turn is closed', () => {
    const slow = (i: number) => 0.07 * Math.sin((Math.PI * i) / 2 / framesPerTurn)
    const traces = turn({ seed: 81_005, lightEv: Array.from({ length: framesPerTurn }, (_, i) => slow(i)) })
    expect(check(traces.slice(0, 30)).seamEv).toBeNull()
    expect(check(traces).seamEv).toBeCloseTo(slow(framesPerTurn - 2) - slow(1), 2)
    expect(check(traces).findings.map(({ key }) => key)).toEqual(['light:seam'])
  })

  it('says of what it was told, in EV, and of too few frames that they are too few', () => {
    const { verdict, frames } = check(clean)
    expect(verdict.sentence).toMatch(
      /^Judged by the backdrop, the light holds within 0\.0[1-9]\sEV from frame to frame \(limit 0\.02\sEV\)/,
    )
    expect(Math.abs(frames[7]?.changeEv ?? 1)).toBeLessThan(0.02)
    expect(check(clean.slice(0, 4))).toMatchObject({ verdict: { state: 'unknown', flickerEv: null } })
    expect(check([])).toMatchObject({ frames: [], verdict: { state: 'unknown' } })
  })
})
