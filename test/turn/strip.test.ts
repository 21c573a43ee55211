import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { um10FromMm } from '../../main/trade/length.ts'
import {
  checkBarMm,
  rimStrip,
  type StripRequest,
  stripCorrection,
  stripHeightMm,
  stripPaperMm,
} from '../../main/trade/turn/strip.ts'

const mm = (value: number) => um10FromMm(value, 'The length')
const usual: StripRequest = {
  rimUm10: mm(1220),
  frames: 244,
  setFrames: null,
  loopFrames: null,
  paper: 'A4',
  marginMm: 10,
  lapMm: 12,
  correction: 1,
}

/** Any rim from 200 to 6000 mm with 8 to 720 frames, marks at least 1 mm apart. */
const requests = fc
  .record({
    rimUm10: fc.integer({ min: mm(200), max: mm(6000) }),
    wish: fc.integer({ min: 8, max: 720 }),
    paper: fc.constantFrom('A4' as const, 'Letter' as const),
    marginMm: fc.double({ min: 3, max: 20, noNaN: true }),
    lapMm: fc.double({ min: 5, max: 40, noNaN: true }),
    correction: fc.double({ min: 0.95, max: 1.05, noNaN: true }),
  })
  .map(
    ({ wish, ...rest }): StripRequest => ({
      ...rest,
      frames: Math.min(wish, Math.floor(rest.rimUm10 / 10_000)),
      setFrames: null,
      loopFrames: null,
    }),
  )

describe('the rim strip', () => {
  it('is as long as the rim and has exactly N marks with equal gaps, each on one tile', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const { tiles, rimMm } = rimStrip(request)
        expect(tiles.reduce((sum, tile) => sum + tile.lengthMm, 0)).toBeCloseTo(rimMm, 7)
        const places: number[] = []
        const indices: number[] = []
        let fromMm = 0
        for (const tile of tiles) {
          for (const mark of tile.marks.filter(({ isOnLap }) => !isOnLap)) {
            expect(mark.positionMm).toBeGreaterThan(0)
            expect(mark.positionMm).toBeLessThan(tile.lengthMm)
            places.push(fromMm + mark.positionMm)
            indices.push(mark.index)
          }
          fromMm += tile.lengthMm
        }
        expect(indices).toEqual(Array.from({ length: request.frames }, (_, k) => k))
        const stepMm = request.rimUm10 / 10_000 / request.frames
        places.forEach((place, k) => {
          const next = places[k + 1] ?? (places[0] ?? 0) + rimMm
          expect(Math.abs(next - place - stepMm)).toBeLessThan(1e-7)
        })
      }),
      { numRuns: 60 },
    )
  })

  it('repeats on each lap the marks that the next tile has there, at the same place', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const { tiles } = rimStrip(request)
        tiles.forEach((tile, t) => {
          const next = tiles[(t + 1) % tiles.length]
          const lap = tile.marks.filter(({ isOnLap }) => isOnLap)
          const under = (next?.marks ?? []).filter(({ positionMm }) => positionMm <= tile.lapMm)
          expect(lap.map(({ index }) => index)).toEqual(under.map(({ index }) => index))
          lap.forEach((mark, i) => {
            expect(mark.positionMm - tile.lengthMm).toBeCloseTo(under[i]?.positionMm ?? Number.NaN, 7)
          })
        })
      }),
      { numRuns: 60 },
    )
  })

  it('fits its paper between the margins, corrected, no tile over another', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const { tiles, leftMm, pages, barTopMm } = rimStrip(request)
        const { widthMm, heightMm } = stripPaperMm[request.paper]
        expect(leftMm + checkBarMm * request.correction).toBeLessThanOrEqual(widthMm - request.marginMm)
        for (const tile of tiles) {
          const right = leftMm + (tile.lengthMm + tile.lapMm) * request.correction
          expect(right).toBeLessThanOrEqual(widthMm - request.marginMm + 1e-7)
          expect(tile.topMm + stripHeightMm).toBeLessThanOrEqual(heightMm - request.marginMm + 1e-7)
          expect(tile.topMm).toBeGreaterThan(barTopMm)
          expect(tile.page).toBeLessThan(pages)
        }
        tiles.slice(1).forEach((tile, t) => {
          const before = tiles[t]
          if (before?.page === tile.page) expect(tile.topMm).toBeGreaterThan(before.topMm + stripHeightMm)
        })
        expect(tiles.at(-1)?.page).toBe(pages - 1)
      }),
      { numRuns: 60 },
    )
  })

  it('has five tiles on one A4 page for a platter of 1220 mm', () => {
    // Mathematics: 297 − 2·10 − 12 = 265 mm hold 53 steps of 5 mm; 244 ÷ 53 is over 4, so 5 tiles of 48 or 49.
    const { tiles, pages, stepMm } = rimStrip(usual)
    expect(tiles.map(({ lengthMm }) => Math.round(lengthMm))).toEqual([240, 245, 245, 245, 245])
    expect({ pages, stepMm }).toEqual({ pages: 1, stepMm: 5 })
    expect(tiles[0]?.marks[0]).toMatchObject({ index: 0, positionMm: 2.5, kind: 'start' })
  })

  it('has a larger mark every tenth, and set and loop marks of their own', () => {
    const marks = rimStrip({ ...usual, frames: 240, setFrames: 24, loopFrames: 120 })
      .tiles.flatMap((tile) => tile.marks)
      .filter(({ isOnLap }) => !isOnLap)
    expect(marks.filter(({ kind }) => kind !== 'plain').map(({ index }) => index)).toEqual(
      Array.from({ length: 24 }, (_, k) => 10 * k),
    )
    // Mathematics: 24 and 120 of 240 are every tenth and every second.
    expect(marks.filter(({ isSet }) => isSet).map(({ index }) => index)).toEqual(
      Array.from({ length: 24 }, (_, k) => 10 * k),
    )
    expect(marks.filter(({ isLoop }) => isLoop)).toHaveLength(120)
    expect(
      rimStrip(usual).tiles.some((tile) => tile.marks.some(({ isSet, isLoop }) => isSet || isLoop)),
    ).toBe(false)
  })

  it('is refused for marks too close to read, and for margins and laps that leave no room', () => {
    expect(() => rimStrip({ ...usual, frames: 1221 })).toThrow('at most 1220 frames')
    expect(() => rimStrip({ ...usual, rimUm10: Number.NaN })).toThrow(
      expect.objectContaining({ field: 'rim' }),
    )
    expect(() => rimStrip({ ...usual, setFrames: 245 })).toThrow('A set of 245 frames')
    for (const marginMm of [-1, 49, Number.NaN]) {
      expect(() => rimStrip({ ...usual, marginMm })).toThrow(expect.objectContaining({ field: 'marginMm' }))
    }
    for (const lapMm of [0, 41, Number.NaN]) {
      expect(() => rimStrip({ ...usual, lapMm })).toThrow(expect.objectContaining({ field: 'lapMm' }))
    }
  })
})

describe('the correction from the check bar', () => {
  it('makes a printer’s 200 mm true', () => {
    // Mathematics: a printer that makes 199 mm of 200 needs 200 ÷ 199; one that then still makes 199.5 more.
    expect(stripCorrection(200, 1)).toBe(1)
    expect(stripCorrection(199, 1)).toBeCloseTo(200 / 199, 12)
    fc.assert(
      fc.property(fc.double({ min: 0.95, max: 1.05, noNaN: true }), (printer) => {
        // Whatever the printer does to lengths, the bar printed with the correction measures 200 mm.
        const correction = stripCorrection(200 * printer, 1)
        expect(200 * printer * correction).toBeCloseTo(200, 9)
        expect(stripCorrection(200 * printer * correction, correction)).toBeCloseTo(correction, 12)
      }),
    )
  })

  it('is refused for a bar that is no 200 mm at all', () => {
    for (const bad of [0, 100, 230, Number.NaN, '199' as unknown as number]) {
      expect(() => stripCorrection(bad, 1)).toThrow(expect.objectContaining({ field: 'measuredMm' }))
    }
    expect(() => stripCorrection(100, 1)).toThrow('Print at 100 %')
    expect(() => rimStrip({ ...usual, correction: 0 })).toThrow(
      expect.objectContaining({ field: 'correction' }),
    )
  })
})
