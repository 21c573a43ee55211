import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  frameName,
  inShootingOrder,
  isCameraFolder,
  joinFrames,
  numberGaps,
  type SeenFile,
} from '../../main/trade/frameFiles.ts'

const seen = (name: string, modifiedMs = 0): SeenFile => ({ name, bytes: 1, modifiedMs })

describe('names of frames', () => {
  // DCF (CIPA DC-009), from memory: eight characters, four free and four digits from 0001 to 9999; folders of three
  // digits from 100 and five characters inside DCIM.
  it.each([
    ['IMG_0412.JPG', 'img_0412', 'IMG_', 412],
    ['100ABCDE/_MG_9999.CR2', '100abcde/_mg_9999', '_MG_', 9999],
    ['DSC01234.ARW', 'dsc01234', 'DSC0', 1234],
    ['kettle-00017.tiff', 'kettle-00017', 'kettle-', 17],
    ['Kettle 3.png', 'kettle 3', 'Kettle ', 3],
    ['kettle.jpg', 'kettle', 'kettle', null],
  ])('%s has its key and its number', (name, key, prefix, number) => {
    expect(frameName(name)).toMatchObject({ key, prefix, number })
  })

  it.each([
    '.IMG_0412.JPG',
    '._IMG_0412.JPG',
    '~IMG_0412.jpg',
    'IMG_0412.jpg.part',
    'IMG_0412.tmp',
    'IMG_0412.xmp',
    'MVI_0413.MP4',
    'Thumbs.db',
    '.jpg',
    'IMG_0412',
  ])('%s is no frame', (name) => expect(frameName(name)).toBeUndefined())

  it('tell folders that a camera makes from others', () => {
    expect(['DCIM', '100ABCDE', '101_0302', '999FGHIJ'].map(isCameraFolder)).toEqual([true, true, true, true])
    expect(['000ABCDE', '100CAN', 'Output', 'Trash', '100ABCDE2'].map(isCameraFolder)).toEqual(
      Array(5).fill(false),
    )
  })
})

describe('frames of a folder', () => {
  it('are one where a raw file and a picture bear one name, in any letters', () => {
    const frames = joinFrames([
      seen('IMG_0001.CR2'),
      seen('img_0001.jpg'),
      seen('IMG_0002.CR2'),
      seen('note.txt'),
    ])
    expect(frames.map(({ files }) => files.map(({ name }) => name))).toEqual([
      ['img_0001.jpg', 'IMG_0001.CR2'],
      ['IMG_0002.CR2'],
    ])
  })

  it('come in the order of one counter, over its turn from 9999 to 0001 and into the next folder', () => {
    const names = [
      '101ABCDE/IMG_0002.JPG',
      '100ABCDE/IMG_9998.JPG',
      '101ABCDE/IMG_0001.JPG',
      '100ABCDE/IMG_9999.JPG',
    ]
    const order = inShootingOrder(joinFrames(names.map((name) => seen(name)))).map(
      ({ files }) => files[0]?.name,
    )
    expect(order).toEqual([
      '100ABCDE/IMG_9998.JPG',
      '100ABCDE/IMG_9999.JPG',
      '101ABCDE/IMG_0001.JPG',
      '101ABCDE/IMG_0002.JPG',
    ])
  })

  it('come in the order of their times where two cameras counted them', () => {
    const frames = joinFrames([
      seen('A___0009.JPG', 300),
      seen('B___0001.JPG', 200),
      seen('A___0008.JPG', 100),
    ])
    expect(inShootingOrder(frames).map(({ number }) => number)).toEqual([8, 1, 9])
  })

  it('come in their order however they are mixed', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 9999 }),
        fc.integer({ min: 1, max: 600 }),
        fc.infiniteStream(fc.nat()),
        (start, count, random) => {
          const names = Array.from(
            { length: count },
            (_, k) => `IMG_${String(((start - 1 + k) % 9999) + 1).padStart(4, '0')}.JPG`,
          )
          const mixed = names
            .map((name) => ({ name, place: random.next().value as number }))
            .sort((a, b) => a.place - b.place)
          const order = inShootingOrder(joinFrames(mixed.map(({ name }) => seen(name))))
          expect(order.map(({ files }) => files[0]?.name)).toEqual(names)
          expect(numberGaps(order)).toEqual([])
        },
      ),
      { numRuns: 60 },
    )
  })
})

describe('gaps in the numbering', () => {
  const framesOf = (...names: string[]) => joinFrames(names.map((name) => seen(name)))

  it('are named as the missing files would be, over the turn of the counter too', () => {
    expect(numberGaps(framesOf('IMG_0111.JPG', 'IMG_0112.JPG', 'IMG_0114.JPG'))).toEqual([
      { after: 1, missing: ['IMG_0113'] },
    ])
    expect(numberGaps(framesOf('IMG_9998.JPG', 'IMG_0002.JPG'))).toEqual([
      { after: 0, missing: ['IMG_9999', 'IMG_0001'] },
    ])
  })

  it('are none where a counter begins anew, another camera goes on, or the number is a time', () => {
    expect(numberGaps(framesOf('IMG_4000.JPG', 'IMG_0001.JPG'))).toEqual([])
    expect(numberGaps(framesOf('IMG_0007.JPG', 'DSC_0012.JPG'))).toEqual([])
    const times = Array.from({ length: 9 }, (_, k) => `20260302-0930${String(k * 6).padStart(2, '0')}.jpg`)
    expect(numberGaps(framesOf(...times))).toEqual([])
  })

  it('are exactly the numbers left out', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 2, max: 300 }), { maxLength: 20 }), (left) => {
        const out = new Set(left)
        const names = Array.from({ length: 400 }, (_, k) => k + 1)
          .filter((number) => !out.has(number))
          .map((number) => `IMG_${String(number).padStart(4, '0')}.JPG`)
        const missing = numberGaps(framesOf(...names)).flatMap((gap) => gap.missing)
        expect(missing.map((name) => Number(name.slice(4)))).toEqual([...left].sort((a, b) => a - b))
      }),
    )
  })
})
