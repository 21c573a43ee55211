import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  cardClasses,
  cardSpace,
  copyMs,
  frameBytes,
  readerWays,
  writingBytesPerSecond,
} from '../../main/trade/cards.ts'

const raw = { widthPx: 6000, heightPx: 4000, bitsPerPixel: 14, compression: 1 }

describe('the size of a frame', () => {
  it('is its pixels times its bits', () => {
    // Mathematics, w·h·bits ÷ 8.
    expect(frameBytes(raw)).toBe(42_000_000)
    expect(frameBytes({ ...raw, widthPx: 5472, heightPx: 3648 })).toBe(34_933_248)
    expect(frameBytes({ ...raw, widthPx: 8256, heightPx: 5504 })).toBe(79_521_792)
    expect(frameBytes({ ...raw, bitsPerPixel: 12 })).toBe(36_000_000)
    expect(frameBytes({ ...raw, bitsPerPixel: 16 })).toBe(48_000_000)
    // A JPEG of 24 megapixels at 2 and 4 bits a pixel: 6 and 12 MB (common practice, no published source).
    expect(frameBytes({ ...raw, bitsPerPixel: 24, compression: 2 / 24 })).toBe(6_000_000)
    expect(frameBytes({ ...raw, bitsPerPixel: 24, compression: 4 / 24 })).toBe(12_000_000)
  })

  it('is refused for no pixels, no bits and a compression that makes files grow', () => {
    for (const bad of [0, -1, Number.NaN, 1.5]) {
      for (const field of ['widthPx', 'heightPx', 'bitsPerPixel', 'compression'] as const) {
        expect(() => frameBytes({ ...raw, [field]: bad })).toThrow(expect.objectContaining({ field }))
      }
    }
  })
})

describe('room on cards', () => {
  it('is counted in whole frames', () => {
    // Mathematics: 244 × 42 MB = 10.248 GB, 326 = 13.692 GB; 64·10⁹ bytes hold 1523.
    expect(cardSpace(244, 42_000_000, 64e9)).toEqual({
      totalBytes: 10_248_000_000,
      framesPerCard: 1523,
      cards: 1,
    })
    expect(cardSpace(326, 42_000_000, 64e9).totalBytes).toBe(13_692_000_000)
    expect(cardSpace(1523, 42_000_000, 64e9).cards).toBe(1)
    expect(cardSpace(1524, 42_000_000, 64e9).cards).toBe(2)
    expect(() => cardSpace(1, 42_000_000, 41_999_999)).toThrow('Use a larger card')
  })

  it('holds all frames, and one card fewer would not', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 100_000 }),
        fc.integer({ min: 1_000_000, max: 200_000_000 }),
        fc.integer({ min: 1_000_000_000, max: 1_000_000_000_000 }),
        (frames, bytes, card) => {
          const { cards, framesPerCard } = cardSpace(frames, bytes, card)
          expect(framesPerCard * bytes).toBeLessThanOrEqual(card)
          expect((framesPerCard + 1) * bytes).toBeGreaterThan(card)
          expect(cards * framesPerCard).toBeGreaterThanOrEqual(frames)
          expect((cards - 1) * framesPerCard).toBeLessThan(frames)
        },
      ),
    )
  })
})

describe('copying', () => {
  it('takes the time of the slower of card and reader', () => {
    // Mathematics, 10.248 GB at the published speeds (SD classes: nextorage.net quoting the SD Association; USB
    // line codes: documentation.truetesting.org, USB 3.x).
    const bytes = 10_248_000_000
    const fast = 1e12
    const seconds = (cardBytesPerSecond: number, readerBytesPerSecond: number) =>
      copyMs(bytes, { cardBytesPerSecond, readerBytesPerSecond }) / 1000
    const known = [
      [cardClasses.V30, 341.6],
      [cardClasses.V60, 170.8],
      [cardClasses.V90, 113.866667],
      [readerWays['UHS-I'], 98.538462],
      [readerWays['UHS-II'], 32.846154],
      [readerWays['USB 480 Mb/s'], 170.8],
      [readerWays['USB 5 Gb/s'], 20.496],
      [readerWays['USB 10 Gb/s'], 8.4546],
    ] as const
    for (const [speed, expected] of known) {
      expect(Math.abs(seconds(speed, fast) - expected)).toBeLessThanOrEqual(0.001)
      expect(seconds(fast, speed)).toBe(seconds(speed, fast))
    }
    expect(seconds(cardClasses.V90, readerWays['USB 480 Mb/s'])).toBe(170.8)
  })

  it('asks of the card what the turning makes', () => {
    // Mathematics: a frame of 42 MB every 6 s is 7 MB/s.
    expect(writingBytesPerSecond(42_000_000, 6000)).toBe(7e6)
  })

  it('is refused without a speed or a size', () => {
    for (const bad of [0, -1, Number.NaN, Infinity]) {
      const way = { cardBytesPerSecond: 1e6, readerBytesPerSecond: 1e6 }
      expect(() => copyMs(1, { ...way, cardBytesPerSecond: bad })).toThrow(
        expect.objectContaining({ field: 'cardBytesPerSecond' }),
      )
      expect(() => copyMs(1, { ...way, readerBytesPerSecond: bad })).toThrow('The reader is')
      expect(() => copyMs(bad, way)).toThrow(expect.objectContaining({ field: 'totalBytes' }))
      expect(() => writingBytesPerSecond(1, bad)).toThrow(expect.objectContaining({ field: 'stepMs' }))
    }
  })
})
