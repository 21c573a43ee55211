import { describe, expect, it } from 'vitest'
import { afterStop } from '../../main/trade/check/afterStop.ts'
import { matchFrames } from '../../main/trade/check/match.ts'
import { matchPicture, pictureDistance } from '../../main/trade/check/matching.ts'
import { traceOf } from '../../main/trade/check/trace.ts'
import { renderTake } from './render.ts'

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
      expect(sentence).toMatch(/moved by about \d\.\d of a step/u)
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
  const [approved, neighbour, fresh] = frames([0, 1, 0])
  if (!approved || !neighbour || !fresh) throw new Error('no frames')
  const step = pictureDistance(matchPicture(approved.thumb), matchPicture(neighbour.thumb)).distance

  it('has nothing to say of the same picture shot again', () => {
    expect(matchFrames(approved, fresh, step, null).sentences).toEqual([])
  })

  it('tells a camera that stands to one side, and a brighter exposure', () => {
    const seen = (camera: object, lightEv: number[] = []) => {
      const [frame] = renderTake({ seed: 4, anglesDeg: [0], camera, lightEv }).frames
      if (!frame) throw new Error('no frame')
      return matchFrames(approved, traceOf(frame), step, null)
    }
    expect(seen({ lateralMm: 10 }).sentences.join()).toMatch(/too far left: pan the camera to the left/u)
    expect(seen({}, [0.2]).exposureEv).toBeCloseTo(0.2, 1)
    expect(seen({}, [0.2]).sentences.join()).toMatch(/brighter than approved/u)
  })
})
