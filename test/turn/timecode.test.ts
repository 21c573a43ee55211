import fc from 'fast-check'
import Timecode from 'smpte-timecode'
import { describe, expect, it } from 'vitest'
import {
  type FrameRateName,
  frameRate,
  frameRateName,
  frameRateNames,
  loopSeconds,
} from '../../main/trade/turn/frameRate.ts'
import { frameOfTimecode, timecode } from '../../main/trade/turn/timecode.ts'

const reference: Record<FrameRateName, number> = {
  '24000/1001': 23.976,
  '24': 24,
  '25': 25,
  '30000/1001 drop': 29.97,
  '30000/1001 non-drop': 29.97,
  '30': 30,
  '50': 50,
  '60000/1001 drop': 59.94,
  '60000/1001 non-drop': 59.94,
  '60': 60,
}

describe('timecode', () => {
  it('labels 244 frames and a day at every rate', () => {
    // SMPTE ST 12-1 counting, by a label walk of a whole day: frames in 24 h and the label of frame 244.
    const rows: [FrameRateName, number, string][] = [
      ['24000/1001', 2_073_600, '00:00:10:04'],
      ['24', 2_073_600, '00:00:10:04'],
      ['25', 2_160_000, '00:00:09:19'],
      ['30000/1001 drop', 2_589_408, '00:00:08;04'],
      ['30000/1001 non-drop', 2_592_000, '00:00:08:04'],
      ['30', 2_592_000, '00:00:08:04'],
      ['50', 4_320_000, '00:00:04:44'],
      ['60000/1001 drop', 5_178_816, '00:00:04;04'],
      ['60000/1001 non-drop', 5_184_000, '00:00:04:04'],
      ['60', 5_184_000, '00:00:04:04'],
    ]
    for (const [rate, day, label] of rows) {
      expect(timecode(244, rate), rate).toBe(label)
      expect(timecode(day - 1, rate), rate).toMatch(/^23:59:59/u)
      expect(() => timecode(day, rate), rate).toThrow(`0 to ${day - 1}`)
    }
    expect(rows.map(([rate]) => rate).sort()).toEqual([...frameRateNames].sort())
  })

  it('drops labels at each minute except every tenth', () => {
    // SMPTE ST 12-1: two labels dropped each minute except every tenth: 17,982 frames in ten minutes.
    const at30: [number, string][] = [
      [1799, '00:00:59;29'],
      [1800, '00:01:00;02'],
      [3597, '00:01:59;29'],
      [3598, '00:02:00;02'],
      [17_981, '00:09:59;29'],
      [17_982, '00:10:00;00'],
      [19_781, '00:10:59;29'],
      [19_782, '00:11:00;02'],
      [107_892, '01:00:00;00'],
      [2_589_407, '23:59:59;29'],
    ]
    const at60: [number, string][] = [
      [3599, '00:00:59;59'],
      [3600, '00:01:00;04'],
      [7196, '00:02:00;04'],
      [35_964, '00:10:00;00'],
      [39_564, '00:11:00;04'],
      [215_784, '01:00:00;00'],
      [5_178_815, '23:59:59;59'],
    ]
    for (const [frame, label] of at30) {
      expect(timecode(frame, '30000/1001 drop')).toBe(label)
      expect(frameOfTimecode(label, '30000/1001 drop')).toBe(frame)
    }
    for (const [frame, label] of at60) {
      expect(timecode(frame, '60000/1001 drop')).toBe(label)
      expect(frameOfTimecode(label, '60000/1001 drop')).toBe(frame)
    }
  })

  it('agrees with an independent library over the whole day, and reads back every label', () => {
    // Reference: the package smpte-timecode 1.3.6.
    const frame = fc.constantFrom(...frameRateNames).chain((name) => {
      const rate = frameRate(name)
      const day = 144 * (600 * rate.nominal - 9 * rate.dropped)
      return fc.tuple(fc.constant(name), fc.integer({ min: 0, max: day - 1 }))
    })
    fc.assert(
      fc.property(frame, ([name, count]) => {
        const label = timecode(count, name)
        const drop = frameRate(name).dropped > 0
        expect(label).toBe(Timecode(count, reference[name], drop).toString())
        expect(Timecode(label, reference[name], drop).frameCount).toBe(count)
        expect(frameOfTimecode(label, name)).toBe(count)
      }),
      { numRuns: 2000 },
    )
  })

  it('refuses labels that the rate does not have', () => {
    // SMPTE ST 12-1: dropped labels, a frame past the second, a day past 24 h.
    for (const label of [
      '00:01:00;00',
      '00:01:00;01',
      '24:00:00;00',
      '00:00:00;30',
      '00:60:00;00',
      '0:0:0;0',
      '',
    ]) {
      expect(() => frameOfTimecode(label, '30000/1001 drop'), label).toThrow('is no timecode')
    }
    expect(() => frameOfTimecode('00:00:00:30', '30')).toThrow('frames 00 to 29')
    expect(() => frameOfTimecode('00:10:00:00', '30000/1001 drop')).toThrow('00:00:00;00')
    expect(frameOfTimecode('00:10:00;00', '30000/1001 drop')).toBe(17_982)
    expect(() => timecode(-1, '25')).toThrow('Frame -1')
    expect(() => timecode(1, '26')).toThrow("'26' is no frame rate")
  })
})

describe('frame rates', () => {
  it('are found by their fraction, and drop-frame exists at the 1001 rates of 30 and 60 alone', () => {
    // SMPTE ST 12-1 (from memory): drop-frame is defined for 30000/1001 and 60000/1001.
    for (const name of frameRateNames) {
      const { numerator, denominator, dropped } = frameRate(name)
      expect(frameRateName(numerator, denominator, dropped > 0)).toBe(name)
    }
    expect(frameRateName(50, 2, false)).toBe('25')
    expect(() => frameRateName(25, 1, true)).toThrow('25/1 frames a second, drop-frame,')
    expect(() => frameRateName(12, 1, false)).toThrow('no rate known')
  })
})

describe('playing time', () => {
  it('is an exact fraction of seconds', () => {
    // Mathematics: 244 ÷ rate, the rates 24000/1001, 30000/1001 and 60000/1001 exact.
    expect(loopSeconds(244, '24000/1001')).toEqual({ numerator: 61_061, denominator: 6000 })
    expect(loopSeconds(244, '24')).toEqual({ numerator: 61, denominator: 6 })
    expect(loopSeconds(244, '25')).toEqual({ numerator: 244, denominator: 25 })
    expect(loopSeconds(244, '30000/1001 drop')).toEqual({ numerator: 61_061, denominator: 7500 })
    expect(loopSeconds(244, '30')).toEqual({ numerator: 122, denominator: 15 })
    expect(loopSeconds(244, '50')).toEqual({ numerator: 122, denominator: 25 })
    expect(loopSeconds(244, '60000/1001 drop')).toEqual({ numerator: 61_061, denominator: 15_000 })
    expect(loopSeconds(0, '25')).toEqual({ numerator: 0, denominator: 1 })
    expect(() => loopSeconds(2.5, '25')).toThrow('whole number')
  })
})
