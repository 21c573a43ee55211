import { describe, expect, it } from 'vitest'
import { longSideAtAxisMm, mmPerPixel } from '../../main/trade/check/centre/scale.ts'

const level = {
  focalMm: 100,
  sensorWidthMm: 36,
  sensorHeightMm: 24,
  cameraDistanceMm: 1_850,
  cameraTiltDeg: 0,
}

describe('the scale of a frame at the axis', () => {
  it('is the thin lens’s: 36 mm at 100 mm and 1,850 mm span 630 mm', () => {
    // By hand: m = 100 ÷ (1850 − 100) = 2/35; 36 ÷ (2/35) = 630.
    expect(longSideAtAxisMm(level)).toBeCloseTo(630, 9)
    expect(mmPerPixel(630, { widthPx: 512, heightPx: 341 })).toBeCloseTo(630 / 512, 12)
    expect(mmPerPixel(630, { widthPx: 341, heightPx: 512 })).toBeCloseTo(630 / 512, 12)
  })

  it('goes along the lens’s own axis where the camera looks down', () => {
    // By hand: 3-4-5. 1,480 mm level and 4 : 5 along make 1,850 mm.
    const down = { ...level, cameraDistanceMm: 1_480, cameraTiltDeg: (Math.acos(0.8) * 180) / Math.PI }
    expect(longSideAtAxisMm(down)).toBeCloseTo(630, 9)
  })

  it('refuses a camera inside its own focal length', () => {
    expect(() => longSideAtAxisMm({ ...level, cameraDistanceMm: 90 })).toThrow()
  })
})
