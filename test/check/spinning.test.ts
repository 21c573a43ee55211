import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  blinkRates,
  calmRate,
  fetchOrder,
  flashesPerSecond,
  frameDragged,
  frameOnLoop,
  framePlayed,
  loopLength,
  loopWithin,
  mostFlashes,
  nearestFrame,
  type Playing,
  seamShown,
  unpackedFrames,
} from '../../main/trade/check/spinning.ts'
import { frameRateNames, frameRates } from '../../main/trade/turn/frameRate.ts'

const aLoop = fc
  .tuple(fc.integer({ min: 1, max: 400 }), fc.integer({ min: 0, max: 400 }))
  .map(([inFrame, more]) => ({ inFrame, outFrame: inFrame + more }))
const aRate = fc.constantFrom(...frameRateNames).map((name) => frameRates[name])
const forward = (loop: Playing['loop'], rate: Playing['rate'] = frameRates['25']): Playing => ({
  loop,
  rate,
  isReversed: false,
})

describe('playing a take', () => {
  it('shows each frame for 40 ms at 25 frames a second, and begins again after the last', () => {
    const playing = forward({ inFrame: 3, outFrame: 6 })
    expect([0, 39, 40, 119, 120, 160, 200].map((ms) => framePlayed(playing, 3, ms))).toEqual([
      3, 3, 4, 5, 6, 3, 4,
    ])
  })

  it('plays 17,982 frames in ten minutes at 30000/1001', () => {
    // SMPTE ST 12-1: two labels dropped each minute except every tenth are 17,982 frames in ten minutes.
    const playing = forward({ inFrame: 1, outFrame: 20_000 }, frameRates['30000/1001 drop'])
    expect(framePlayed(playing, 1, 600_000)).toBe(1 + 17_982)
  })

  it('plays backwards through the same frames', () => {
    const playing = { ...forward({ inFrame: 3, outFrame: 6 }), isReversed: true }
    expect([0, 40, 80, 120, 160].map((ms) => framePlayed(playing, 4, ms))).toEqual([4, 3, 6, 5, 4])
  })

  it('goes no farther in one long wait than in many short ones, at every rate and either way', () => {
    fc.assert(
      fc.property(
        aLoop,
        aRate,
        fc.boolean(),
        fc.integer({ min: 0, max: 2000 }),
        (loop, rate, isReversed, steps) => {
          const playing = { loop, rate, isReversed }
          const stepMs = (1000 * rate.denominator) / rate.numerator
          let frame = loop.inFrame
          for (let step = 0; step < Math.min(steps, 50); step += 1)
            frame = framePlayed(playing, frame, stepMs)
          expect(frame).toBe(framePlayed(playing, loop.inFrame, Math.min(steps, 50) * stepMs))
        },
      ),
    )
  })

  it('never leaves the loop, and comes back to its frame after one round', () => {
    fc.assert(
      fc.property(
        aLoop,
        fc.integer({ min: -50, max: 900 }),
        fc.integer({ min: -3000, max: 3000 }),
        (loop, from, steps) => {
          const frame = frameOnLoop(loop, from, steps)
          expect(frame).toBeGreaterThanOrEqual(loop.inFrame)
          expect(frame).toBeLessThanOrEqual(loop.outFrame)
          expect(frameOnLoop(loop, frame, loopLength(loop))).toBe(frame)
          expect(frameOnLoop(loop, frameOnLoop(loop, frame, steps), -steps)).toBe(frame)
        },
      ),
    )
  })

  it('passes over void frames: a round is the frames that are left, in order, and none is shown twice', () => {
    const withVoid = { inFrame: 3, outFrame: 8, leftOut: [2, 5, 6] }
    expect(loopLength(withVoid)).toBe(4)
    expect([0, 40, 80, 120, 160].map((ms) => framePlayed(forward(withVoid), 3, ms))).toEqual([3, 4, 7, 8, 3])
    expect(frameOnLoop(withVoid, 5, 0)).toBe(7)
    fc.assert(
      fc.property(aLoop, fc.array(fc.integer({ min: 1, max: 800 })), (loop, leftOut) => {
        const played = { ...loop, leftOut }
        const first = frameOnLoop(played, loop.inFrame, 0)
        const round = Array.from({ length: loopLength(played) }, (_, k) => frameOnLoop(played, first, k))
        expect(new Set(round).size).toBe(round.length)
        expect(round).toEqual([...round].sort((a, b) => a - b))
        expect(frameOnLoop(played, first, round.length)).toBe(first)
        // A loop of void frames alone shows its first.
        if (round.length > 1) expect(round.filter((frame) => leftOut.includes(frame))).toEqual([])
      }),
    )
  })

  it('keeps a loop inside its take, one frame long at least', () => {
    expect(loopWithin({ inFrame: 0, outFrame: 400 }, 310)).toEqual({ inFrame: 1, outFrame: 310 })
    expect(loopWithin({ inFrame: 40, outFrame: 20 }, 310)).toEqual({ inFrame: 40, outFrame: 40 })
    expect(loopWithin({ inFrame: 5, outFrame: 9 }, 0)).toEqual({ inFrame: 1, outFrame: 1 })
  })
})

describe('turning a take by hand', () => {
  it('turns half a turn across the whole picture, and back again', () => {
    const clockwise = { loop: { inFrame: 1, outFrame: 240 }, direction: 'clockwise' } as const
    expect(frameDragged(clockwise, 1, -600, 600)).toBe(121)
    expect(frameDragged(clockwise, 121, 600, 600)).toBe(1)
    expect(frameDragged(clockwise, 1, 5, 600)).toBe(240)
  })

  it('follows the hand whichever way the platter turned: by the near face of a drawn turn', () => {
    // The near face stands at (sin of its angle) to the right of the axis: counted on by the turn, seen from above.
    const nearFacePx = (frame: number, direction: 'clockwise' | 'anticlockwise') =>
      100 * Math.sin(((direction === 'anticlockwise' ? 1 : -1) * 2 * Math.PI * (frame - 1)) / 240)
    for (const direction of ['clockwise', 'anticlockwise'] as const) {
      const loop = { inFrame: 1, outFrame: 240 }
      for (const pulledPx of [-40, 40]) {
        const at = frameDragged({ loop, direction }, 1, pulledPx, 600)
        expect(Math.sign(nearFacePx(at, direction))).toBe(Math.sign(pulledPx))
      }
    }
  })

  it('comes to the same frame by one drag and by its parts, to a frame', () => {
    fc.assert(
      fc.property(
        aLoop,
        fc.integer({ min: -2000, max: 2000 }),
        fc.integer({ min: 100, max: 1200 }),
        (loop, px, width) => {
          const turned = { loop, direction: 'anticlockwise' } as const
          const whole = frameDragged(turned, loop.inFrame, px, width)
          const parts = frameDragged(
            turned,
            frameDragged(turned, loop.inFrame, px / 2, width),
            px - px / 2,
            width,
          )
          const apart = Math.abs(whole - parts)
          expect(Math.min(apart, loopLength(loop) - apart)).toBeLessThanOrEqual(1)
        },
      ),
    )
  })
})

describe('fetching pictures', () => {
  it('fetches each frame once, and every sixteenth first', () => {
    expect(fetchOrder(310).slice(0, 20)).toEqual(Array.from({ length: 20 }, (_, k) => 16 * k + 1))
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 600 }), (frames) => {
        expect(fetchOrder(frames).sort((a, b) => a - b)).toEqual(
          Array.from({ length: frames }, (_, k) => k + 1),
        )
      }),
    )
  })

  it('keeps no more pictures unpacked than fit, no frame twice, and the one that stands first', () => {
    fc.assert(
      fc.property(
        aLoop,
        fc.nat(800),
        fc.boolean(),
        fc.integer({ min: 2, max: 120 }),
        (loop, from, isReversed, most) => {
          const at = frameOnLoop(loop, from, 0)
          const kept = unpackedFrames(loop, at, isReversed, most)
          expect(kept.length).toBe(Math.min(most, loopLength(loop)))
          expect(new Set(kept).size).toBe(kept.length)
          expect(kept[0]).toBe(at)
        },
      ),
    )
    // Ahead in the way it is played.
    expect(unpackedFrames({ inFrame: 1, outFrame: 310 }, 2, true, 8)).toEqual([
      2, 1, 310, 309, 308, 307, 3, 4,
    ])
  })

  it('stands in with the nearest picture, over the seam too', () => {
    const loop = { inFrame: 1, outFrame: 100 }
    expect(nearestFrame(loop, 3, (frame) => frame === 99 || frame === 9)).toBe(99)
    expect(nearestFrame(loop, 3, (frame) => frame === 3)).toBe(3)
    expect(nearestFrame(loop, 3, () => false)).toBeUndefined()
  })
})

describe('blinking', () => {
  it('alternates last and first', () => {
    expect([0, 499, 500, 999, 1000].map((ms) => seamShown(ms, 2))).toEqual([
      'last',
      'last',
      'first',
      'first',
      'last',
    ])
  })

  it.each([...blinkRates, 2 * mostFlashes])(
    'flashes at most three times in any second at %s changes',
    (changes) => {
      // WCAG 2.2, 2.3.1: not more than three flashes in any one second; a flash is a pair of opposing changes.
      const shown = Array.from({ length: 4000 }, (_, ms) => seamShown(ms, changes))
      const at = shown.flatMap((which, ms) => (ms > 0 && which !== shown[ms - 1] ? [ms] : []))
      for (const first of at) {
        expect(at.filter((ms) => ms >= first && ms < first + 1000).length).toBeLessThanOrEqual(6)
      }
      expect(at.length).toBeGreaterThan(0)
    },
  )

  it('refuses to flash faster', () => {
    expect(() => seamShown(0, 7)).toThrow('more than 3 times a second')
    expect(() => seamShown(0, 0)).toThrow()
    expect(() => seamShown(0, Number.NaN)).toThrow()
  })

  it('counts the flashes that a lamp gives which comes and goes', () => {
    // One frame in five is dark: at 25 frames a second it falls and rises five times a second.
    const lamp = Array.from({ length: 50 }, (_, k) => (k % 5 === 0 ? 0.2 : 0.5))
    expect(flashesPerSecond(lamp, 25)).toBe(5)
    expect(flashesPerSecond(lamp, 10)).toBe(2)
    // A tenth is the least that counts, and nothing counts where the darker is 0.8 or more.
    expect(
      flashesPerSecond(
        lamp.map((y) => (y === 0.2 ? 0.41 : 0.5)),
        25,
      ),
    ).toBe(0)
    expect(
      flashesPerSecond(
        lamp.map((y) => (y === 0.2 ? 0.8 : 0.95)),
        25,
      ),
    ).toBe(0)
    expect(flashesPerSecond([], 25)).toBe(0)
    expect(flashesPerSecond([null, 0.4], 25)).toBe(0)
  })

  it('plays a take whose lamp comes and goes slower, and any other at its own rate', () => {
    const lamp = Array.from({ length: 50 }, (_, k) => (k % 5 === 0 ? 0.2 : 0.5))
    // A fall and a rise every five frames: four pairs span 17 frames, so 16 a second hold three.
    expect(calmRate(lamp, frameRates['25'])).toEqual({
      rate: { numerator: 16, denominator: 1 },
      isSlower: true,
    })
    expect(calmRate([0.5, 0.51, 0.5], frameRates['25'])).toEqual({ rate: frameRates['25'], isSlower: false })
    fc.assert(
      fc.property(
        fc.array(fc.option(fc.double({ min: 0, max: 1, noNaN: true })), { maxLength: 60 }),
        aRate,
        (ys, rate) => {
          const calm = calmRate(ys, rate)
          const perSecond = calm.rate.numerator / calm.rate.denominator
          expect(perSecond).toBeGreaterThanOrEqual(1)
          expect(flashesPerSecond(ys, perSecond)).toBeLessThanOrEqual(mostFlashes)
        },
      ),
    )
  })
})
