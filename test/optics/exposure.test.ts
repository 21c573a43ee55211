import { describe, expect, it } from 'vitest'
import { exposureChangeEv, exposureValue } from '../../main/trade/optics/exposure.ts'
import { stopDownWarning } from '../../main/trade/optics/stopDown.ts'
import { fStops, nearestFStop, shutterTimes } from '../../main/trade/optics/stops.ts'

describe('exposure value', () => {
  it('has its published values', () => {
    // theinfolist.com, 'Exposure value': f/1 at 1 s is 0, f/16 at 1/125 is marked 15, f/8 at 1/125 13.
    expect(exposureValue(1, 1)).toBe(0)
    expect(Math.round(exposureValue(16, 1 / 125))).toBe(15)
    expect(Math.round(exposureValue(8, 1 / 125))).toBe(13)
    // Mathematics, log2(N²/t).
    expect(exposureValue(16, 1 / 125)).toBeCloseTo(14.965784285, 9)
    expect(exposureValue(8, 1 / 128)).toBe(13)
    expect(exposureValue(11, 1 / 60)).toBeCloseTo(12.825753833, 9)
    expect(exposureValue(5.6, 1 / 30)).toBeCloseTo(9.87774425, 9)
  })

  it('changes by a stop for double the time or ISO, and for the f-number by root two', () => {
    const from = { fNumber: 8, seconds: 1 / 60, iso: 100 }
    expect(exposureChangeEv(from, from)).toBe(0)
    expect(exposureChangeEv(from, { ...from, seconds: 1 / 30 })).toBeCloseTo(1, 12)
    expect(exposureChangeEv(from, { ...from, iso: 50 })).toBeCloseTo(-1, 12)
    expect(exposureChangeEv(from, { ...from, fNumber: 8 * Math.SQRT2 })).toBeCloseTo(-1, 12)
    // Mathematics, log2 of the ratio: 1.01, 1.05, 1.1.
    for (const [ratio, ev] of [
      [1.01, 0.014355293],
      [1.05, 0.070389328],
      [1.1, 0.137503524],
    ] as const) {
      expect(exposureChangeEv(from, { ...from, seconds: ratio / 60 })).toBeCloseTo(ev, 9)
    }
  })

  it('is refused without an aperture, a time or an ISO', () => {
    for (const bad of [0, -1, Number.NaN]) {
      expect(() => exposureValue(bad, 1)).toThrow(expect.objectContaining({ field: 'fNumber' }))
      expect(() => exposureValue(8, bad)).toThrow(expect.objectContaining({ field: 'seconds' }))
      const good = { fNumber: 8, seconds: 1, iso: 100 }
      expect(() => exposureChangeEv(good, { ...good, iso: bad })).toThrow(
        expect.objectContaining({ field: 'iso' }),
      )
    }
  })
})

describe('standard stops', () => {
  it('are the whole stops of the published scale', () => {
    // US Army SS0508 (SS05080013): 11 rounds 11.313708, 45 rounds 45.254832.
    const full = fStops.filter((stop) => stop.full)
    expect(full.map(({ marked }) => marked)).toEqual([1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32, 45, 64])
    expect(full.find(({ marked }) => marked === 11)?.exact).toBeCloseTo(11.313708, 5)
    expect(full.find(({ marked }) => marked === 45)?.exact).toBeCloseTo(45.254832, 5)
  })

  it('stand for the published thirds', () => {
    // largeformatphotography.info thread 8513: f-numbers by thirds of a stop from 1 to 64.
    const published = [
      1.0, 1.12, 1.26, 1.41, 1.59, 1.78, 2.0, 2.24, 2.52, 2.83, 3.17, 3.56, 4.0, 4.49, 5.04, 5.66, 6.35, 7.13,
      8.0, 8.98, 10.08, 11.31, 12.7, 14.25, 16.0, 17.96, 20.16, 22.63, 25.4, 28.51, 32.0, 35.92, 40.32, 45.25,
      50.8, 57.02, 64.0,
    ]
    expect(fStops.map(({ exact }) => Math.round(exact * 100) / 100)).toEqual(published)
    // kameraarkasi.org, 'Typical one-third-stop f-number scale', f/1 to f/22.
    expect(fStops.slice(0, 28).map(({ marked }) => marked)).toEqual([
      1, 1.1, 1.2, 1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.5, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9, 10, 11, 13, 14,
      16, 18, 20, 22,
    ])
    // √(11.31 · 12.70) = 11.985 lies between the two marks, counted in stops.
    expect(nearestFStop(11.98)?.marked).toBe(11)
    expect(nearestFStop(11.99)?.marked).toBe(13)
    expect(nearestFStop(12, [])).toBeUndefined()
  })

  it('mark shutter times within an eighth of a stop of what they stand for', () => {
    // Whole stops as on any dial, from memory of ISO 516; thirds as published at scottlocklear.com/shutter-speed-chart.
    const names = (times: typeof shutterTimes) =>
      times.map(({ num, den }) => (den === 1 ? `${num}` : `${num}/${den}`))
    expect(names(shutterTimes.filter((time) => time.full))).toEqual([
      '30',
      '15',
      '8',
      '4',
      '2',
      '1',
      '1/2',
      '1/4',
      '1/8',
      '1/15',
      '1/30',
      '1/60',
      '1/125',
      '1/250',
      '1/500',
      '1/1000',
      '1/2000',
      '1/4000',
      '1/8000',
    ])
    const upTo50 = names(
      shutterTimes.filter(({ exactSeconds }) => exactSeconds < 0.26 && exactSeconds > 0.019),
    )
    expect(upTo50).toEqual([
      '1/4',
      '1/5',
      '1/6',
      '1/8',
      '1/10',
      '1/13',
      '1/15',
      '1/20',
      '1/25',
      '1/30',
      '1/40',
      '1/50',
    ])
    for (const { num, den, exactSeconds } of shutterTimes) {
      expect(Math.abs(Math.log2(num / den / exactSeconds))).toBeLessThan(1 / 8)
    }
    expect(shutterTimes.find(({ den }) => den === 125)?.exactSeconds).toBe(1 / 128)
  })
})

describe('a lens that closes for every frame', () => {
  // Common practice, no published source.
  it('is warned about with its reason, what helps, and the danger of a loosened lens', () => {
    const warning = stopDownWarning({ apertureHeld: 'each frame', apertureCenti: 1100 }, 2.8)
    expect(warning?.code).toBe('closes-for-each-frame')
    expect(warning?.reason).toContain('flickers')
    expect(warning?.helps.join(' ')).toMatch(/wide open.*ring holds.*Unlatch/)
    expect(warning?.caution.sentence).toMatch(/fall.*latch it before/)
    expect(stopDownWarning({ apertureHeld: 'each frame', apertureCenti: null }, null)).not.toBeNull()
  })

  it('is not one that is held, or that is set wide open', () => {
    for (const apertureHeld of ['wide open', 'ring', 'held']) {
      expect(stopDownWarning({ apertureHeld, apertureCenti: 1100 }, 2.8)).toBeNull()
    }
    expect(stopDownWarning({ apertureHeld: 'each frame', apertureCenti: 280 }, 2.8)).toBeNull()
  })
})
