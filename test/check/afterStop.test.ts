import { describe, expect, it } from 'vitest'
import { traceOf } from '../../main/trade/check/outline/trace.ts'
import { afterStop } from '../../main/trade/check/turn/afterStop.ts'
import { matchFrames } from '../../main/trade/check/turn/match.ts'
import { startPoseOf } from '../../main/trade/check/turn/startPose.ts'
import { renderTake, type SolidKind } from './render.ts'

/** Frames at these steps of 7.5°, each with its own noise. */
function frames(
  steps: readonly number[],
  lightEv: readonly number[] = [],
  kind: 'unsymmetrical' | 'can' = 'unsymmetrical',
) {
  return renderTake({ kind, seed: 3, anglesDeg: steps.map((step) => 7.5 * step), lightEv }).frames.map(
    (frame) => traceOf(frame),
  )
}

function stopped(moved: number, ev = 0, kind: 'unsymmetrical' | 'can' = 'unsymmetrical') {
  const all = frames([0, 1, 2, 3, 4, 5, 5 + moved], [0, 0, 0, 0, 0, 0, ev], kind)
  const again = all.at(-1)
  if (!again) throw new Error('no frame')
  return afterStop(all.slice(0, -1), again)
}

describe('after a stop the last mark is shot again', () => {
  it('goes on where nothing has changed but the noise', () => {
    expect(stopped(0)).toMatchObject({ advice: 'go on' })
    expect(stopped(0).steps).toBeLessThan(0.2)
    expect(stopped(0, 0.05).advice).toBe('go on')
  })

  it('starts over where the platter was moved, and says by about how much of a step', () => {
    for (const moved of [-1, -0.6, 0.6]) {
      const { advice, steps, sentence } = stopped(moved)
      expect(advice).toBe('start over')
      expect(Math.abs((steps ?? 0) - Math.abs(moved))).toBeLessThan(0.25)
      expect(sentence).toMatch(/moved by about (one step|0\.\d of a step|\d\.\d\ssteps)/u)
    }
    // Onward the pose changes more than in the steps before the stop, from which one is told.
    expect(stopped(1).advice).toBe('start over')
    expect(stopped(1).steps).toBeGreaterThan(0.8)
  })

  it('tells a change of light by its EV', () => {
    const { advice, lightEv, sentence } = stopped(0, -0.3)
    expect(advice).toBe('start over')
    expect(lightEv).toBeCloseTo(-0.3, 1)
    expect(sentence).toMatch(/0\.\d+\sEV darker/u)
  })

  it('does not say that a can still stands at its mark', () => {
    expect(stopped(0, 0, 'can')).toMatchObject({ advice: 'go on', steps: null })
    expect(stopped(0, 0, 'can').sentence).toContain('check the mark')
  })
})

describe('the newest frame against the approved one', () => {
  const [approved, fresh] = frames([0, 0])
  if (!approved || !fresh) throw new Error('no frames')

  it('has nothing to say of the same picture shot again', () => {
    expect(matchFrames(approved, fresh, null, null).sentences).toEqual([])
  })

  it('tells a camera that stands to one side, and a brighter exposure', () => {
    const seen = (camera: object, lightEv: number[] = []) => {
      const [frame] = renderTake({ seed: 4, anglesDeg: [0], camera, lightEv }).frames
      if (!frame) throw new Error('no frame')
      return matchFrames(approved, traceOf(frame), null, null)
    }
    expect(seen({ lateralMm: 10 }).sentences.join()).toMatch(/too far left: pan the camera to the left/u)
    expect(seen({}, [0.2]).exposureEv).toBeCloseTo(0.2, 1)
    expect(seen({}, [0.2]).sentences.join()).toMatch(/brighter than approved/u)
  })

  const seenSo = (of: object, widthMm: number | null = null) => {
    const [frame] = renderTake({ seed: 3, anglesDeg: [0], ...of }).frames
    if (!frame) throw new Error('no frame')
    return matchFrames(approved, traceOf(frame), null, widthMm)
  }

  it('tells a camera that is zoomed in or out, by how much, and a foot that stands too low', () => {
    // The picture is 240 mm wide at the axis as approved.
    const nearer = seenSo({ camera: { fieldWidthMm: 220 } })
    expect(nearer.scale).toBeCloseTo(240 / 220, 1)
    expect(nearer.sentences.join()).toMatch(/% larger than approved: move the camera back/u)
    expect(seenSo({ camera: { fieldWidthMm: 265 } }).sentences.join()).toMatch(/% smaller than approved/u)
    const higher = seenSo({ camera: { aimHeightMm: 62, heightMm: 212 } }, 240)
    expect(higher.belowPart).toBeGreaterThan(0.02)
    expect(higher.sentences.join()).toMatch(/foot stands \d+\smm too low: tilt the camera down/u)
  })
})

describe('the start pose by the contact strip of the approved take', () => {
  const stripDeg = Array.from({ length: 24 }, (_, at) => at * 15)
  const posed = (kind: SolidKind, askedDeg: number, seed: number) => {
    const anglesDeg = [...stripDeg, askedDeg]
    const traces = renderTake({ kind, seed, widthPx: 192, heightPx: 128, anglesDeg }).frames.map((frame) =>
      traceOf(frame),
    )
    const newest = traces.at(-1)
    if (!newest) throw new Error('no frame')
    const poses = stripDeg.map((angleDeg, at) => ({ trace: traces[at] ?? newest, angleDeg }))
    return { newest, pose: startPoseOf(poses, newest, 240) }
  }

  it.each([
    ['unsymmetrical', 7],
    ['unsymmetrical', -20],
    ['mug', 12],
    ['mug', 100],
    ['box', -9],
  ] as const)('is told of a %s at %i° within four, on or back by its sign', (kind, deg) => {
    const { pose } = posed(kind, deg, 3)
    expect(Math.abs((pose?.aheadDeg ?? Number.NaN) - deg)).toBeLessThan(4)
    expect(pose?.steps).toBeCloseTo(((pose?.aheadDeg ?? 0) / 360) * 240, 9)
  })

  it('is not told of a can, which looks alike all round', () => {
    expect(posed('can', 7, 3).pose).toBeNull()
  })

  it('asks to turn the product back against the platter where it stands too far on', () => {
    const { newest, pose } = posed('unsymmetrical', 12, 3)
    expect(matchFrames(newest, newest, pose, null).sentences.join()).toMatch(
      /1\d°, some \d+\ssteps, further on in the turn than approved: turn it by that against the way/u,
    )
  })
})
