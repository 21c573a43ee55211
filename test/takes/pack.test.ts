import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { packFrames, type TakeFrame, unpackFrames } from '../../main/trade/pack.ts'

const frames = fc.array(
  fc
    .record({
      offsetMs: fc.nat(10_000_000),
      isVoid: fc.boolean(),
      mark: fc.nat(2000),
      file: fc.option(fc.string(), { nil: null }),
      folder: fc.nat(3),
    })
    // The first folder is not named, nor one without a file in it.
    .map(({ folder, ...frame }) => (frame.file === null || folder === 0 ? frame : { ...frame, folder })),
  { maxLength: 400 },
)

describe('packed frames', () => {
  it('unpack to the very frames that were packed, also through JSON', () => {
    fc.assert(
      fc.property(frames, (given) => {
        const packed = packFrames(given)
        expect(unpackFrames(packed)).toEqual(given)
        expect(unpackFrames(JSON.parse(JSON.stringify(packed)))).toEqual(given)
      }),
    )
  })

  it('hold nothing but times for a take without a slip', () => {
    const even: TakeFrame[] = Array.from({ length: 247 }, (_, mark) => ({
      offsetMs: mark * 6000,
      isVoid: false,
      mark,
      file: null,
    }))
    expect(packFrames(even)).toMatchObject({ marks: [], voids: [], files: [] })
  })
})
