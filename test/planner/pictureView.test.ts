import { describe, expect, it } from 'vitest'
import { exposureView } from '../../renderer/planner/exposureView.ts'
import { pictureView } from '../../renderer/planner/pictureView.ts'
import { sharpView } from '../../renderer/planner/sharpView.ts'
import { smoothView } from '../../renderer/planner/smoothView.ts'
import { turnView } from '../../renderer/planner/turnView.ts'
import { plainTyped, type Typed } from '../../renderer/planner/typed.ts'

const pictureOf = (typed: Partial<Typed>) => {
  const { value, refusals } = pictureView({ ...plainTyped, ...typed }, [5000], 1)
  if (!value) throw new Error(`Refused: ${JSON.stringify(refusals)}`)
  return value
}
const sharpOf = (typed: Partial<Typed>) => {
  const { value, refusals } = sharpView({ ...plainTyped, ...typed }, pictureOf(typed))
  if (!value) throw new Error(`Refused: ${JSON.stringify(refusals)}`)
  return value
}

describe('the planned picture', () => {
  it('sees by the thin lens what the sensor’s crop lets it', () => {
    // m = 100 ÷ (1100 − 100) = 1/10 (photo.stackexchange.com/q/114916); a square of 24 mm sees 240 mm.
    const picture = pictureOf({ focal: '100', distance: '1100', sensorW: '36', sensorH: '24' })
    expect(picture.magnification).toBeCloseTo(0.1, 10)
    expect(picture.field.widthMm).toBeCloseTo(240, 6)
    expect(picture.sensorField.widthMm).toBeCloseTo(360, 6)
    expect(picture.crop.keptPart).toBeCloseTo(2 / 3, 6)
    // 1080 px on 240 mm.
    expect(picture.axisPxPerMm).toBeCloseTo(4.5, 6)
  })

  it('turns the sensor for an upright camera', () => {
    const picture = pictureOf({ upright: 'yes', pxW: '1080', pxH: '1620' })
    expect(picture.crop.keptPart).toBeCloseTo(1, 6)
  })

  it.each([
    ['a focal length longer than the distance', { focal: '900', distance: '800' }, 'focal', 'not shorter'],
    ['a product that touches the lens', { distance: '110', focal: '35' }, 'distance', 'touch the lens'],
    ['a size below nothing', { swept: '-20' }, 'swept', 'over 0'],
    ['a height of nothing', { height: '0' }, 'height', 'over 0'],
    ['a sensor in words', { sensorW: 'full frame' }, 'sensorW', 'not a number'],
    ['half a pixel', { pxW: '1080.5' }, 'pxW', 'can be kept'],
    ['no pixels', { pxH: '0' }, 'pxH', 'over 0'],
  ] as const)('refuses %s at its field', (_, typed, field, words) => {
    expect(pictureView({ ...plainTyped, ...typed }, [5000], 1).refusals?.[field]).toContain(words)
  })
})

describe('the verdict on sharpness', () => {
  it('names the f-number that holds the sweep where one does', () => {
    const sharp = sharpOf({ swept: '60', height: '80', distance: '1850', pxW: '800', pxH: '800' })
    expect(sharp.sweep.code).toBe('sharp')
    expect(sharp.verdict).toContain('holds the whole turn sharp to one delivered pixel')
  })

  it('gives the best compromise where diffraction is in the way', () => {
    const sharp = sharpOf({
      swept: '200',
      height: '200',
      focal: '100',
      distance: '700',
      pxW: '4000',
      pxH: '4000',
      smallest: '64',
    })
    expect(sharp.sweep.code).toBe('diffraction')
    expect(sharp.verdict).toContain(`f/${sharp.sweep.stop.marked} is the best compromise`)
    expect(sharp.verdict).toContain('instead of 4000')
  })

  it('says when the lens does not close or does not open far enough', () => {
    const closes = sharpOf({
      swept: '300',
      height: '200',
      distance: '1850',
      smallest: '5.6',
      pxW: '800',
      pxH: '800',
    })
    expect(closes.sweep.code).toBe('too-open')
    expect(closes.verdict).toContain('closes only to f/5.6')
    const opens = sharpOf({
      swept: '2',
      height: '2',
      widest: '22',
      smallest: '22',
      pxW: '8000',
      pxH: '5000',
    })
    expect(opens.sweep.code).toBe('too-closed')
    expect(opens.verdict).toContain('opens only to f/22')
  })

  it('focuses before the axis, where near and far are equally sharp', () => {
    // 2·n·F ÷ (n + F) lies nearer than the middle of n and F (harmonic below arithmetic mean).
    const sharp = sharpOf({})
    expect(sharp.sweep.focusMm).toBeLessThan(1850)
    expect(sharp.focus).toContain('before the axis')
  })

  it('warns of a lens that closes for every frame, and is silent when it is held or wide open', () => {
    const warned = sharpOf({ held: 'each frame', fNumber: '11' })
    expect(warned.warning?.reason).toContain('flickers')
    expect(warned.warning?.caution.sentence).toContain('fall')
    expect(sharpOf({ held: 'ring' }).warning).toBeNull()
    expect(sharpOf({ held: 'each frame', fNumber: '2.8', widest: '2.8' }).warning).toBeNull()
  })

  it('tells the depth by the close-up formula too, which agrees with the exact one at this scale', () => {
    const sharp = sharpView(plainTyped, pictureOf({})).value
    // The Manual of Photography's close-up form; near enough from a twentieth of life size up.
    expect((sharp?.closeUpMm ?? 0) / (sharp?.depth.totalMm ?? 1)).toBeCloseTo(1, 1)
  })

  it('refuses a lens whose f-numbers are swapped, at the field', () => {
    const typed = { ...plainTyped, widest: '22', smallest: '4' }
    expect(sharpView(typed, pictureOf({})).refusals?.smallest).toContain('Swap')
  })
})

describe('the change of exposure', () => {
  it('counts marks by what they stand for', () => {
    // f/11 to f/16 is one stop darker, 1/125 to 1/60 one stop brighter (US Army SS0508; whole stops).
    expect(exposureView(plainTyped).value?.changeEv).toBeCloseTo(0, 9)
    // theinfolist.com, 'Exposure value', table of EV: f/11 at 1/125 s and f/16 at 1/60 s are both EV 14.
    for (const ev of exposureView(plainTyped).value?.evs ?? [0]) expect(ev).toBeCloseTo(14, 9)
    expect(exposureView({ ...plainTyped, toShutter: '1/125' }).value?.sentence).toBe(
      'The second is 1 stop darker under the same light.',
    )
    expect(exposureView({ ...plainTyped, toFNumber: '10' }).value?.sentence).toContain('1⅓ stops brighter')
    expect(exposureView({ ...plainTyped, toShutter: '2', toFNumber: '11' }).value?.sentence).toContain(
      '8 stops',
    )
  })

  it('refuses what is no shutter time', () => {
    expect(exposureView({ ...plainTyped, shutter: '1/0' }).refusals?.shutter).toContain('no shutter time')
    expect(exposureView({ ...plainTyped, toShutter: '' }).refusals?.toShutter).toContain('1/125 or 2')
  })
})

describe('smoothness', () => {
  it('is the step of the outermost point as it passes in front', () => {
    const typed = { ...plainTyped, focal: '100', distance: '1100', swept: '200' }
    const turn = turnView(typed).value
    if (!turn) throw new Error('The plain turn is refused.')
    const { value } = smoothView(typed, turn, pictureOf(typed))
    // Chord 2·100·sin(π/244) = 2.575 mm, image scale 4.5 px/mm × 1100 ÷ 1000 (design §5.1).
    const chord = 200 * Math.sin(Math.PI / 244)
    expect(value?.choices[0]?.smooth.stepPx).toBeCloseTo(chord * 4.5 * 1.1, 9)
    expect(value?.choices.map(({ frames }) => frames)).toEqual([244, 122])
    expect(value?.choices[0]?.turnSeconds).toBeCloseTo(9.76, 9)
  })

  it('says where more frames are lost on the pointer’s error', () => {
    const typed = { ...plainTyped, division: '5' }
    const turn = turnView(typed).value
    if (!turn) throw new Error('The turn is refused.')
    // At 5 mm divisions on 1220 mm half a step is passed from 122 frames on: 1220 ÷ (2 × 5).
    expect(smoothView(typed, turn, pictureOf({})).value?.limit).toContain(
      'More frames than 122 bring nothing',
    )
  })

  it('refuses a comparison with one frame at its field', () => {
    const turn = turnView(plainTyped).value
    if (!turn) throw new Error('The plain turn is refused.')
    const typed = { ...plainTyped, compareC: '1' }
    expect(smoothView(typed, turn, pictureOf({})).refusals?.compareC).toContain('from 2')
  })
})
