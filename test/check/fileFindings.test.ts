import fc from 'fast-check'
import { expect, it } from 'vitest'
import { noSettings } from '../../main/trade/check/files/exifSettings.ts'
import { fileFindings } from '../../main/trade/check/files/fileFindings.ts'
import type { FrameFacts } from '../../main/trade/check/files/frameFacts.ts'
import { frameTrouble } from '../../main/trade/check/files/frameTrouble.ts'

const settings = {
  ...noSettings,
  shutterSeconds: 1 / 125,
  fNumber: 8,
  iso: 100,
  whiteBalance: 'manual',
  focalLengthMm: 90,
} as const

const nameOf = (number: number, prefix = 'IMG_') => `${prefix}${String(number).padStart(4, '0')}.JPG`

/** A clean frame, but for what the test is about. */
const facts = (number: number, of: Partial<FrameFacts> = {}): FrameFacts => ({
  file: nameOf(number),
  bytes: 9_000_000 + number,
  contentHash: `hash of ${of.file ?? number}`,
  from: 'picture',
  widthPx: 6000,
  heightPx: 4000,
  orientation: 1,
  time: null,
  settings,
  ticket: null,
  trouble: null,
  ...of,
})

const take = (frames: number, from = 1) =>
  Array.from({ length: frames }, (_, k) => facts(((from + k - 1) % 9999) + 1))
const changed = (frames: FrameFacts[], frame: number, of: Partial<FrameFacts>) =>
  frames.map((one, at) => (at === frame - 1 ? { ...one, ...of } : one))
const placed = (turn: readonly FrameFacts[]) => turn.map((facts, at) => ({ frame: at + 1, facts }))
const said = (turn: readonly FrameFacts[]) =>
  fileFindings(placed(turn)).findings.map(({ frames, sentence }) => [frames, sentence] as const)

it('finds nothing in a clean take, wherever its counter starts and also past 9999', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 9999 }), fc.integer({ min: 1, max: 320 }), (from, frames) => {
      const { findings, verdict } = fileFindings(placed(take(frames, from)))
      expect(findings).toEqual([])
      expect(verdict.state).toBe('clean')
    }),
  )
  expect(fileFindings([]).verdict.state).toBe('unknown')
})

it('names what is missing in the numbering, with the frames beside it', () => {
  const turn = take(240, 9990).filter(
    ({ file }) => !['IMG_0003.JPG', 'IMG_0100.JPG', 'IMG_0101.JPG'].includes(file),
  )
  const findings = said(turn)
  expect(findings.map(([frames]) => frames)).toEqual([[13], [109]])
  expect(findings[0]?.[1]).toMatch(/IMG_0003 is missing between frames\s12 and 13/u)
  expect(findings[1]?.[1]).toMatch(/2\sfiles, IMG_0100 to IMG_0101, are missing/u)
})

it('tells a second card by its counter and a second camera by its names', () => {
  expect(said([...take(150, 300), ...take(92, 1)])[0]?.[1]).toMatch(
    /begins anew, as on another card: IMG_0449\.JPG, then IMG_0001\.JPG at frame\s151/u,
  )
  const other = take(10, 50).map((one) => facts(0, { file: one.file.replace('IMG_', 'DSC_') }))
  expect(said([...take(100), ...other])).toMatchObject([[[101], expect.stringContaining('Another camera')]])
  const mixed = take(20).flatMap((one, at) => [one, facts(0, { file: nameOf(at + 500, 'DSC_') })])
  expect(said(mixed)).toMatchObject([
    [expect.anything(), expect.stringContaining('Are two cameras writing here?')],
  ])
})

it('finds files of the same content under other names', () => {
  const turn = changed(changed(take(30), 12, { contentHash: 'same' }), 25, { contentHash: 'same' })
  expect(said(turn)).toMatchObject([
    [[12, 25], expect.stringMatching(/Frames\s12 and 25 hold the same file .*IMG_0012\.JPG, IMG_0025\.JPG/u)],
  ])
})

it('tells a picture of another size from one that lies on its side', () => {
  const small = changed(take(30), 7, { widthPx: 3000, heightPx: 2000 })
  expect(said(small)).toMatchObject([
    [[7], expect.stringMatching(/measures 3000 × 2000\spixels, the others 6000 × 4000/u)],
  ])
  const onSide = changed(take(30), 8, { widthPx: 4000, heightPx: 6000 })
  expect(said(onSide)).toMatchObject([[[8], expect.stringMatching(/Frame\s8 stands on the side/u)]])
})

it.each([
  ['shutterSeconds', 1 / 60, /shutter changes from 1\/125\ss to 1\/60\ss at frame\s40/u],
  ['fNumber', 11, /aperture changes from f\/8 to f\/11 at frame\s40/u],
  ['iso', 200, /ISO changes from ISO\s100 to ISO\s200 at frame\s40/u],
  ['whiteBalance', 'auto', /white balance changes from set by hand to automatic at frame\s40/u],
  ['focalLengthMm', 85, /focal length changes from 90\smm to 85\smm at frame\s40/u],
])('names the frame from which on %s is another', (setting, value, words) => {
  const turn = take(60).map((one, at) =>
    at < 39 ? one : { ...one, settings: { ...settings, [setting]: value } },
  )
  expect(said(turn)).toMatchObject([[[40], expect.stringMatching(words)]])
})

it('says a setting that the camera changes all the time once, and a white balance left to it', () => {
  const turn = take(40).map((one, at) => ({
    ...one,
    settings: {
      ...settings,
      whiteBalance: 'auto' as const,
      shutterSeconds: at % 2 === 0 ? 1 / 125 : 1 / 100,
    },
  }))
  const findings = said(turn)
  expect(findings).toHaveLength(2)
  expect(findings[0]?.[1]).toContain('changes 39 times')
  expect(findings[1]?.[1]).toContain('left to the camera')
})

it('says a few spoilt files one by one and many of one kind once', () => {
  const spoil = (kind: 'empty' | 'format', frames: readonly number[]) =>
    take(50).map((one, at) =>
      frames.includes(at + 1)
        ? { ...one, contentHash: null, widthPx: null, heightPx: null, trouble: frameTrouble(kind, one.file) }
        : one,
    )
  expect(said(spoil('empty', [3, 9])).map(([frames]) => frames)).toEqual([[3], [9]])
  const all = said(
    spoil(
      'format',
      Array.from({ length: 50 }, (_, at) => at + 1),
    ),
  )
  expect(all).toHaveLength(1)
  expect(all[0]?.[1]).toContain('HEIC')
})

it('finds every one of these faults in 200 random takes, and nothing else', () => {
  const faults = [
    (turn: FrameFacts[], at: number) => turn.filter((_, index) => index !== at),
    (turn: FrameFacts[], at: number) =>
      changed(turn, at + 1, { contentHash: turn[at - 1]?.contentHash ?? '' }),
    (turn: FrameFacts[], at: number) => changed(turn, at + 1, { widthPx: 4000, heightPx: 6000 }),
    (turn: FrameFacts[], at: number) => changed(turn, at + 1, { ticket: 'TURNSHEET.1A2F.7' }),
    (turn: FrameFacts[], at: number) =>
      changed(turn, at + 1, { trouble: frameTrouble('cut short', nameOf(at)) }),
    (turn: FrameFacts[], at: number) =>
      turn.map((one, index) => (index < at ? one : { ...one, settings: { ...settings, iso: 400 } })),
  ]
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 9999 }),
      fc.integer({ min: 20, max: 320 }),
      fc.nat(),
      fc.constantFrom(...faults),
      (from, frames, where, spoil) => {
        const at = 1 + (where % (frames - 2))
        const findings = said(spoil(take(frames, from), at))
        expect(findings).toHaveLength(1)
        expect(findings[0]?.[0]).toContain(at + 1)
      },
    ),
    { numRuns: 200 },
  )
})

it('says of a void frame’s file between two others that nothing is missing, and of one more that it is', () => {
  // Frame 3 was void: its file lies on the card, and the turn leaves it out.
  const left = placed(take(5)).filter(({ frame }) => frame !== 3)
  expect(fileFindings(left).findings).toEqual([])
  const gone = left
    .filter(({ frame }) => frame !== 4)
    .map((one, at) => ({ ...one, frame: at < 2 ? at + 1 : at + 2 }))
  expect(fileFindings(gone).findings).toMatchObject([{ key: 'number gap @4', frames: [4], size: 1 }])
})

it('keeps the key of what was found first of each kind while more frames come', () => {
  const kinds = ['empty', 'damaged'] as const
  const shot = fc.array(
    fc.record({ trouble: fc.option(fc.constantFrom(...kinds), { freq: 2 }), iso: fc.constantFrom(100, 200) }),
    {
      minLength: 2,
      maxLength: 40,
    },
  )
  fc.assert(
    fc.property(shot, fc.nat(), (frames, cut) => {
      const all = placed(
        frames.map(({ trouble, iso }, at) =>
          facts(at + 1, {
            settings: { ...settings, iso },
            ...(trouble
              ? {
                  trouble: frameTrouble(trouble, nameOf(at + 1)),
                  widthPx: null,
                  heightPx: null,
                  contentHash: null,
                }
              : {}),
          }),
        ),
      )
      const early = fileFindings(all.slice(0, 2 + (cut % all.length))).findings
      const late = fileFindings(all).findings.map(({ key }) => key)
      for (const of of ['file empty', 'file damaged', 'iso', 'names change', 'number gap']) {
        const first = early.find(({ key }) => key.startsWith(of))
        if (first) expect(late).toContain(first.key)
      }
    }),
    { numRuns: 200 },
  )
})
