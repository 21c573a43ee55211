import { describe, expect, it } from 'vitest'
import type { Silhouette } from '../../main/trade/check/frameTrace.ts'
import { silhouetteOf } from '../../main/trade/check/outline/silhouette.ts'
import { traceOf } from '../../main/trade/check/outline/trace.ts'
import type { SmallFrame } from '../../main/trade/check/smallFrame.ts'
import { gaussians } from './render/noise.ts'
import { type RenderOptions, randomOf, renderTake } from './render.ts'

/** A level camera, 1 mm to the pixel: a can's sides stand at the axis ± 1000·tan(asin(33/1000)) = 33.018 mm. */
const level = { distanceMm: 1000, heightMm: 50, aimHeightMm: 50, fieldWidthMm: 240 }
const size = { widthPx: 240, heightPx: 180, anglesDeg: [0] }

const settings: readonly (readonly [string, Partial<RenderOptions>])[] = [
  ['grey', { backdropY: 0.4, gradient: 0.2, productY: 0.15 }],
  ['white', { backdropY: 0.98, gradient: 0, productY: 0.5 }],
  ['white behind white goods', { backdropY: 0.99, gradient: 0, productY: 0.75, texture: 0.1 }],
  ['dark', { backdropY: 0.02, gradient: 0.3, productY: 0.35 }],
]

/** How far the edges of the upper half lie from where they are, in pixels: all rows, signed. */
function errorsOf(silhouette: Silhouette | null, axisPx: number): readonly number[] {
  if (!silhouette) return [Number.NaN]
  const rows = Math.floor(silhouette.leftPx.length / 2)
  return Array.from({ length: rows - 6 }, (_, i) => [
    (silhouette.leftPx[i + 6] ?? 0) - (axisPx - 33.018),
    (silhouette.rightPx[i + 6] ?? 0) - (axisPx + 33.018),
  ]).flat()
}

function frameOf(options: Partial<RenderOptions>): SmallFrame {
  return renderTake({ ...size, ...options }).frames[0] as SmallFrame
}

describe('the outline of the product', () => {
  it.each(settings)('is true to a tenth of a pixel before a %s backdrop, wherever it falls', (_, setting) => {
    const random = randomOf(7)
    for (let seed = 0; seed < 6; seed++) {
      const lateralMm = 12 * random() - 6
      const take = renderTake({
        ...size,
        kind: 'can',
        seed,
        platterY: null,
        ...setting,
        camera: { ...level, lateralMm },
      })
      const errors = errorsOf(silhouetteOf(take.frames[0] as SmallFrame), take.truth.axisXPx)
      const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length
      expect(Math.abs(mean)).toBeLessThan(0.1)
      expect(errors.every((error) => Math.abs(error) < 0.6)).toBe(true)
    }
  })

  it('does not count the platter, its shadow or the mark on its edge, without an empty frame or with it', () => {
    for (const kind of ['can', 'box', 'mug', 'unsymmetrical'] as const) {
      const asked = { ...size, kind, edgeMark: true, anglesDeg: [0, 40, 250] }
      const plain = renderTake({ ...asked, platterY: null, edgeMark: false })
      const set = renderTake(asked)
      set.frames.forEach((frame, i) => {
        const alone = silhouetteOf(plain.frames[i] as SmallFrame)
        const found = silhouetteOf(frame)
        const withEmpty = silhouetteOf(frame, { emptyFrame: set.emptyFrame })
        // At its foot a product can look like the platter in its shadow: there nothing is told.
        expect(found?.areaPx).toBeGreaterThan(0.75 * (alone?.areaPx ?? Number.NaN))
        expect(found?.areaPx).toBeLessThan(1.06 * (alone?.areaPx ?? Number.NaN))
        expect(withEmpty?.areaPx).toBeGreaterThan(0.85 * (alone?.areaPx ?? Number.NaN))
        expect(withEmpty?.areaPx).toBeLessThan(1.04 * (alone?.areaPx ?? Number.NaN))
      })
    }
  })

  it('follows the light: an empty frame a third of a stop darker is the same set', () => {
    const { frames, emptyFrame } = renderTake({ ...size, kind: 'mug', lightEv: [1 / 3], backdropY: 0.5 })
    const frame = frames[0] as SmallFrame
    const same = renderTake({ ...size, kind: 'mug', backdropY: 0.5 })
    const outline = silhouetteOf(frame, { emptyFrame })
    const plain = silhouetteOf(same.frames[0] as SmallFrame, { emptyFrame: same.emptyFrame })
    expect((outline?.areaPx ?? 0) / (plain?.areaPx ?? Number.NaN)).toBeGreaterThan(0.98)
    expect((outline?.areaPx ?? 0) / (plain?.areaPx ?? Number.NaN)).toBeLessThan(1.02)
    expect(outline?.leftPx[40]).toBeCloseTo(plain?.leftPx[40] ?? Number.NaN, 0)
  })

  it('looks only where it is told to: a stand in the picture is left out', () => {
    const frame = frameOf({ kind: 'can', platterY: null, camera: level })
    const rgb = new Uint8Array(frame.rgb)
    for (let y = 0; y < 180; y++)
      for (let x = 8; x < 50; x++) rgb.fill(20, (y * 240 + x) * 3, (y * 240 + x) * 3 + 3)
    const area = { left: 0.25, top: 0, right: 1, bottom: 1 }
    const outline = silhouetteOf({ ...frame, rgb }, { area })
    expect(outline?.leftPx[60]).toBeCloseTo(120 - 33.018, 0)
    expect(outline?.rightPx[60]).toBeCloseTo(120 + 33.018, 0)
  })

  it('is none where nothing stands, where there is no backdrop, and in a picture too small to hold one', () => {
    const noise = gaussians(3)
    const wild = Uint8Array.from({ length: 240 * 180 * 3 }, (_, at) => 128 + 60 * noise.at(at))
    expect(silhouetteOf({ widthPx: 240, heightPx: 180, rgb: wild })).toBeNull()
    expect(silhouetteOf({ widthPx: 1, heightPx: 1, rgb: new Uint8Array(3) })).toBeNull()
    for (const platterY of [null, 0.5]) {
      const { emptyFrame } = renderTake({ ...size, platterY })
      expect(silhouetteOf(emptyFrame)).toBeNull()
      expect(silhouetteOf(emptyFrame, { emptyFrame })).toBeNull()
    }
  })

  it('says where a product leaves the picture: its edge is the picture’s', () => {
    const frame = frameOf({
      kind: 'box',
      platterY: null,
      camera: { ...level, aimHeightMm: 75, heightMm: 75, fieldWidthMm: 80 },
    })
    const outline = silhouetteOf(frame)
    expect(outline?.leftPx[100]).toBe(0)
    expect(outline?.rightPx[100]).toBe(240)
  })
})

describe('what is kept of a frame', () => {
  it('holds the light of backdrop, platter and product apart', () => {
    const asked = { ...size, kind: 'box', gradient: 0, shadow: 0, texture: 0, backdropY: 0.6 } as const
    const { backdropY, platterY, productY, frameY } = traceOf(frameOf(asked))
    expect(backdropY).toBeCloseTo(0.6, 2)
    expect(platterY).toBeCloseTo(0.5, 2)
    // 0.3 where the light falls squarely, 0.165 in the shade: by the options of the drawing.
    expect(productY).toBeGreaterThan(0.165)
    expect(productY).toBeLessThan(0.3)
    expect(frameY).toBeGreaterThan(0.4)
    const lit = traceOf(frameOf({ ...asked, backdropEv: [-0.5] }))
    expect(Math.log2((lit.backdropY ?? 0) / (backdropY ?? 1))).toBeCloseTo(-0.5, 2)
    expect(lit.productY).toBeCloseTo(productY ?? 0, 2)
  })

  it('keeps a thumb of 64 pixels with the frame’s mean, some 16 kB in all', () => {
    const trace = traceOf(frameOf({ kind: 'mug', widthPx: 480, heightPx: 360 }))
    expect([trace.thumb.widthPx, trace.thumb.heightPx]).toEqual([64, 48])
    const mean = trace.thumb.y.reduce((sum, y) => sum + y, 0) / trace.thumb.y.length
    expect(mean).toBeCloseTo(trace.frameY, 3)
    expect(trace.thumb.y.byteLength + (trace.silhouette?.leftPx.byteLength ?? 0) * 2).toBeLessThan(16_000)
  })
})
