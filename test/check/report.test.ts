import { describe, expect, it } from 'vitest'
import { isOffCentre } from '../../main/trade/check/centre/centreWords.ts'
import type { CheckedTake } from '../../main/trade/check/checkedTake.ts'
import { bandProfile } from '../../main/trade/check/edgeMark/edgeMarkSeen.ts'
import { noSettings } from '../../main/trade/check/files/exifSettings.ts'
import { frameTrouble } from '../../main/trade/check/files/frameTrouble.ts'
import { traceOf } from '../../main/trade/check/outline/trace.ts'
import { reportOf, type SeenFrame } from '../../main/trade/check/reportOf.ts'
import { framesOfLoop, loopWithin } from '../../main/trade/check/spinning.ts'
import type { Turn } from '../../main/trade/check/turnFrames.ts'
import { neighboursOf } from '../../renderer/check/stripGeometry.ts'
import { type RenderOptions, renderTake, turnAngles } from './render.ts'

const framesPerTurn = 60
const take: CheckedTake = {
  framesPerTurn,
  overlapFrames: 3,
  hasEnded: true,
  turns: 'clockwise',
  pointerSide: null,
  centreChoice: 'least sweep',
  camera: null,
  limits: { flickerMev: 20, lightStepMev: 50, driftMev: 100, centreUm: 1000, marginPpm: 20_000 },
  edgeBand: null,
  otherRows: [],
}

/** A rendered take as the check's thread has seen it. */
function seenTake(
  of: Partial<RenderOptions>,
  edgeBand: CheckedTake['edgeBand'] = null,
): readonly SeenFrame[] {
  return renderTake(of).frames.map((small, at) => ({
    facts: {
      file: `DCIM/IMG_${at + 1}.JPG`,
      bytes: 1000,
      contentHash: `hash ${at}`,
      from: 'picture',
      widthPx: small.widthPx,
      heightPx: small.heightPx,
      orientation: 1,
      time: null,
      settings: noSettings,
      trouble: null,
      ticket: null,
    },
    trace: traceOf(small),
    band: edgeBand && bandProfile(small, edgeBand),
  }))
}

const plainTurn = (count: number, shift = (at: number) => at): Turn =>
  Array.from({ length: count }, (_, at) => ({
    frame: shift(at) + 1,
    folder: '/frames',
    files: [`IMG_${at + 1}.JPG`],
  }))

const faultsOf = ({ findings }: ReturnType<typeof reportOf>) =>
  findings.filter(({ fault }) => fault !== null).map(({ fault, frames }) => [fault, frames[0]])

describe('the report of a take', () => {
  const anglesDeg = turnAngles({ framesPerTurn, frames: framesPerTurn + 3 })

  it('is made of every beginning of a take, also of fine steps and with frames that cannot be read', () => {
    for (const fine of [24, 240]) {
      const seen = seenTake({
        widthPx: 64,
        heightPx: 48,
        anglesDeg: turnAngles({ framesPerTurn: fine, frames: 20 }),
      })
      for (let read = 0; read <= seen.length; read++) {
        for (const lost of [-1, 0, 2]) {
          const part = seen.map((one, at) =>
            at >= read ? null : at === lost ? { ...one, trace: null } : one,
          )
          const report = reportOf(
            { ...take, framesPerTurn: fine, hasEnded: false },
            plainTurn(seen.length),
            part,
          )
          expect(report.framesRead).toBe(read)
          expect(faultsOf(report)).toEqual([])
        }
      }
    }
  })

  it('has every frame’s figures, closes the turn and passes over no mark in a clean take', () => {
    const seen = seenTake({ anglesDeg })
    const report = reportOf(take, plainTurn(seen.length), seen)
    expect(report).toMatchObject({ framesOfTake: 63, framesRead: 63 })
    expect(report.frames.map(({ frame }) => frame)).toEqual(anglesDeg.map((_, at) => at + 1))
    expect(report.frames[0]).toMatchObject({ file: 'IMG_1.JPG', match: 1, changeEv: null, problem: null })
    const { frameY, backdropY, platterY, productY } = report.frames[0] ?? {}
    const trace = seen[0]?.trace
    for (const [told, y] of [
      [frameY, trace?.frameY],
      [backdropY, trace?.backdropY],
      [platterY, trace?.platterY],
      [productY, trace?.productY],
    ] as const) {
      expect(told).toBeGreaterThan(0)
      expect(told).toBeCloseTo(y ?? Number.NaN, 4)
    }
    // Frame 61 stands where frame 1 stood.
    expect(report.frames[60]?.match).toBeGreaterThan(0.8)
    expect(report.closing).toMatchObject({ by: 'picture', framesPerTurn })
    expect(report.steps).toMatchObject({ state: 'clean', missed: [], doubled: [] })
    expect(report.light.state).toBe('clean')
    expect(report.findings.filter(({ key }) => /light|step|picture|file/.test(key))).toEqual([])
  })

  it('names a step of light by the take’s number of the frame, whatever was void before it', () => {
    const lightEv = anglesDeg.map((_, at) => (at >= 40 ? -0.2 : 0))
    const seen = seenTake({ anglesDeg, lightEv })
    // Two frames were made void after the tenth: all later ones have numbers two higher.
    const turn = plainTurn(seen.length, (at) => (at >= 10 ? at + 2 : at))
    const report = reportOf(take, turn, seen)
    expect(faultsOf(report)).toContainEqual(['light change', 43])
    expect(report.findings.find(({ fault }) => fault === 'light change')?.sentence).toMatch(/frame\s43/)
    expect(report.closing.loopOut - report.closing.loopIn).toBe(61)
  })

  it('leaves the name of a file alone that reads like a frame’s number, and counts the file by its exposure', () => {
    const seen = [...seenTake({ anglesDeg })]
    const seventh = seen[6]
    if (!seventh) throw new Error('The take has no seventh frame.')
    const trouble = frameTrouble('damaged', 'Frame 7 copy.JPG')
    seen[6] = { facts: { ...seventh.facts, file: 'Frame 7 copy.JPG', trouble }, trace: null, band: null }
    // Frame 3 was void.
    const report = reportOf(
      take,
      plainTurn(seen.length, (at) => (at >= 2 ? at + 1 : at)),
      seen,
    )
    const damaged = report.findings.find(({ key }) => key.startsWith('file damaged'))
    expect(damaged).toMatchObject({ key: 'file damaged @8', frames: [8] })
    expect(damaged?.sentence).toMatch(/^Frame 7 copy\.JPG is damaged/)
  })

  it('names what it found by what and where alone: no limit changes a key, and a void frame moves only its place', () => {
    const lightEv = anglesDeg.map((_, at) => (at >= 40 ? -0.2 : at % 6 === 3 ? 0.06 : 0))
    const seen = seenTake({ anglesDeg, lightEv, offsetMm: 6, offsetBearingDeg: 90 })
    const keysAt = (part: number, shift = (at: number) => at) => {
      const limits = Object.fromEntries(
        Object.entries(take.limits).map(([name, limit]) => [
          name,
          name === 'marginPpm' ? limit : part * limit,
        ]),
      ) as unknown as CheckedTake['limits']
      return reportOf({ ...take, limits }, plainTurn(seen.length, shift), seen).findings.map(({ key }) => key)
    }
    const keys = keysAt(1)
    expect(keys).toEqual(expect.arrayContaining(['light:flicker', 'light:step @41']))
    for (const key of keys) expect(key).toMatch(/^(?:\D+|horizon row \d+|size \d+ × \d+|[^\d@]+(?: @\d+)+)$/)
    // What is found at a stricter limit too has the key it had.
    expect(keysAt(0.7)).toEqual(expect.arrayContaining(keys))
    expect(keysAt(1, (at) => (at >= 10 ? at + 1 : at))).toContain('light:step @42')
  })

  it('knows the last frame by its number where one was void, so that nothing of the take is cut off', () => {
    const seen = seenTake({ anglesDeg })
    const turn = plainTurn(seen.length, (at) => (at >= 10 ? at + 1 : at))
    const report = reportOf(take, turn, seen)
    expect(report).toMatchObject({ framesOfTake: 63, lastFrame: 64, leftOut: [11] })
    expect(report.frames.at(-1)?.frame).toBe(64)
    const { loopIn, loopOut } = report.closing
    const loop = loopWithin({ inFrame: loopIn, outFrame: loopOut, leftOut: report.leftOut }, report.lastFrame)
    expect(framesOfLoop(loop)).toHaveLength(framesPerTurn)
    expect(framesOfLoop(loop)).not.toContain(11)
    expect(neighboursOf(report, 10)).toEqual({ before: 9, after: 12 })
    expect(neighboursOf(report, 12)).toEqual({ before: 10, after: 13 })
    expect(neighboursOf(report, 64)).toEqual({ before: 63, after: undefined })
    expect(neighboursOf(report, 1)).toEqual({ before: undefined, after: 2 })
  })

  it('finds something wherever steps or closing are said to be at fault', () => {
    const missed = turnAngles({ framesPerTurn, frames: framesPerTurn + 3, missedAt: [20] })
    const twice = turnAngles({ framesPerTurn, frames: framesPerTurn + 3, twiceAt: [20] })
    for (const angles of [missed, twice]) {
      const seen = seenTake({ anglesDeg: angles })
      const report = reportOf(take, plainTurn(seen.length), seen)
      expect(report.closing.state).toBe('found')
      const keys = report.findings.map(({ key }) => key)
      expect(keys).toContain('frames per turn')
      // The marks that the steps name are faults already: the count of the turn is none beside them.
      expect(report.findings.find(({ key }) => key.startsWith('frames per turn'))?.fault).toBeNull()
    }
  })

  it('takes no change of light on the backdrop or the product alone for a mark passed over', () => {
    const changed = (ev: number) => anglesDeg.map((_, at) => (at >= 40 ? ev : 0))
    for (const light of [{ backdropEv: changed(-0.4) }, { productEv: changed(-1) }]) {
      const seen = seenTake({ anglesDeg, ...light })
      const report = reportOf(take, plainTurn(seen.length), seen)
      expect(faultsOf(report)).toEqual([['light change', 41]])
      expect(report.frames[40]?.stepRatio).toBeNull()
    }
  })

  it('names the file that cannot be read, and what is not read yet has no figures', () => {
    const seen: (SeenFrame | null)[] = [...seenTake({ anglesDeg })]
    const fourth = seen[3]
    if (!fourth) throw new Error('The take has no fourth frame.')
    const trouble = { kind: 'cut short', sentence: 'IMG_4.JPG is cut short.' } as const
    seen[3] = { facts: { ...fourth.facts, trouble }, trace: null, band: null }
    const report = reportOf(
      take,
      plainTurn(seen.length),
      seen.map((one, at) => (at < 20 ? one : null)),
    )
    expect(report).toMatchObject({ framesOfTake: 63, framesRead: 20, files: { state: 'found' } })
    expect(report.frames[3]).toMatchObject({
      problem: 'IMG_4.JPG is cut short.',
      luminanceEv: null,
      match: null,
    })
    expect(report.closing.by).toBe('count')
  })

  it('judges nothing before a frame is read', () => {
    const report = reportOf(
      take,
      plainTurn(63),
      plainTurn(63).map(() => null),
    )
    const { light, steps, closing, centre, framing, horizon } = report
    for (const { state } of [light, steps, closing, centre, framing, horizon]) expect(state).toBe('unknown')
    expect(light.sentence).toMatch(/none is read\.$/u)
    expect(closing.sentence).toBe('Where the turn closes is told once frames are read.')
    expect(report.findings).toEqual([])
  })

  it.each([0, 30])('is of the other frames where frame index %i has another size than they', (at) => {
    const seen: (SeenFrame | null)[] = [...seenTake({ anglesDeg })]
    const [stray] = seenTake({ anglesDeg: [0], widthPx: 90, heightPx: 160 })
    seen[at] = stray ?? null
    const report = reportOf(take, plainTurn(seen.length), seen)
    expect(report.frames[at]).toMatchObject({ luminanceEv: null })
    expect(report.light.state).toBe('clean')
    expect(report.steps.state).toBe('clean')
    expect(report.frames.filter(({ luminanceEv }) => luminanceEv !== null)).toHaveLength(62)
    // The match is told against the first frame of the take's own size: that one matches itself.
    expect(report.frames.filter(({ match }) => match !== null)).toHaveLength(62)
    expect(report.frames[at === 0 ? 1 : 0]?.match).toBe(1)
    const said = report.unknown.filter((sentence) => /against frame 2/.test(sentence))
    expect(said).toEqual(at === 0 ? [expect.stringMatching(/^Frame 1 has another size/)] : [])
    if (at > 0) expect(report.closing).toMatchObject({ by: 'picture', framesPerTurn })
  })

  it('reckons the middle by the perspective of the rig’s camera, and the push by where the pointer stands', () => {
    const anglesDeg = turnAngles({ framesPerTurn, frames: framesPerTurn })
    const camera = { distanceMm: 700, fieldWidthMm: 300 }
    const { frames, truth } = renderTake({
      kind: 'can',
      offsetMm: 10,
      offsetBearingDeg: 60,
      anglesDeg,
      widthPx: 180,
      heightPx: 120,
      camera,
    })
    const [first] = seenTake({ anglesDeg: [0] })
    if (!first) throw new Error('The take has no frame.')
    const seen = frames.map((small) => ({ ...first, trace: traceOf(small) }))
    // The drawn camera stands 200 mm over the platter and is aimed 50 mm over it. A whole frame of 36 mm that spans 300 mm
    // at d: f = d × 36 ÷ (300 + 36).
    const stand = {
      focalMm: (Math.hypot(700, 150) * 36) / 336,
      sensorWidthMm: 36,
      sensorHeightMm: 24,
      cameraDistanceMm: 700,
      cameraTiltDeg: (Math.atan2(150, 700) * 180) / Math.PI,
    }
    const of = { ...take, centreChoice: 'body', camera: stand } as const
    const { centre, findings } = reportOf(of, plainTurn(seen.length), seen)
    expect(centre.offset?.unit).toBe('mm')
    expect(Math.abs((centre.offset?.value ?? 0) - truth.body.offsetMm)).toBeLessThan(0.3)
    // Without the camera its perspective stays in the error bar, half as long again at least.
    expect(centre.offset?.error).toBeLessThan(0.32)
    // It stands at 60° clockwise from the camera and is pushed towards 240°. Turned clockwise, the mark there in the pose of
    // 0° comes to a pointer at p after p − 240°, each mark being 6°: to 0° after 120°, to 270° after 30°.
    expect(centre.nudgeTowardsMark).toBe(20)
    const offCentre = findings.find(({ key }) => isOffCentre(key))
    expect(offCentre?.sentence).toMatch(/towards mark 21;.* reckoned with the pointer on the camera’s side/)
    expect(centre.sentence).toBe(offCentre?.sentence)
    const said = reportOf({ ...of, pointerSide: 'right' }, plainTurn(seen.length), seen)
    expect(said.centre.nudgeTowardsMark).toBe(5)
    expect(said.centre.sentence).not.toMatch(/reckoned/)
    expect(said.centre.sentence).toMatch(/towards mark 6;/)
  })

  it('says what it waits for where nothing was read', () => {
    const report = reportOf(take, plainTurn(3), [null, null, null])
    expect(report).toMatchObject({ framesRead: 0, frames: [], light: { state: 'unknown' }, findings: [] })
  })

  describe('of a plain can with a mark on the platter’s edge', () => {
    /** Drawn along the near edge of the platter, as a person would. */
    const edgeBand = { left: 0.03, top: 0.69, right: 0.97, bottom: 0.82 }
    const can: Partial<RenderOptions> = {
      kind: 'can',
      texture: 0,
      edgeMark: true,
      offsetMm: 3,
      offsetBearingDeg: 40,
      widthPx: 160,
      heightPx: 120,
      noiseCodes: 1,
      camera: { fieldWidthMm: 400 },
    }
    const turned = (of: Parameters<typeof turnAngles>[0], band: CheckedTake['edgeBand']) => {
      const seen = seenTake({ ...can, anglesDeg: turnAngles(of) }, band)
      return reportOf({ ...take, edgeBand: band }, plainTurn(seen.length), seen)
    }

    it('closes by the mark alone, and names the mark that was passed over and the one shot twice', () => {
      const frames = framesPerTurn + 20
      const missed = turned({ framesPerTurn, frames, missedAt: [5] }, edgeBand)
      expect(missed.closing).toMatchObject({
        by: 'edge mark',
        framesPerTurn: framesPerTurn - 1,
        state: 'found',
      })
      expect(missed.closing.confidence).toBeGreaterThan(0.9)
      expect(missed.steps).toMatchObject({ state: 'found', missed: [6], doubled: [] })
      expect(faultsOf(missed)).toContainEqual(['missed step', 6])
      const twice = turned({ framesPerTurn, frames, twiceAt: [5] }, edgeBand)
      expect(twice.closing).toMatchObject({ by: 'edge mark', framesPerTurn: framesPerTurn + 1 })
      expect(twice.steps).toMatchObject({ missed: [], doubled: [6] })
      // Nothing is lost by it, as where the picture alone tells it.
      expect(twice.findings.find(({ frames: [at] }) => at === 6)?.fault).toBeNull()
      // Told once, not by the picture too.
      expect(twice.findings.filter((finding) => finding.frames.includes(6))).toHaveLength(1)
    })

    it('is as planned in a clean take, and waits for the mark until it has been seen enough', () => {
      const clean = turned({ framesPerTurn, frames: framesPerTurn + 20 }, edgeBand)
      expect(clean.closing).toMatchObject({ by: 'edge mark', framesPerTurn, state: 'clean' })
      expect(clean.steps).toMatchObject({ state: 'clean', missed: [], doubled: [] })
      const begun = turned({ framesPerTurn, frames: 5 }, edgeBand)
      expect(begun.closing.by).toBe('count')
      expect(begun.findings.filter(({ key }) => key.startsWith('edgeMark'))).toEqual([])
      expect(begun.unknown.join(' ')).toMatch(/mark on the platter’s edge is seen in/)
    })

    it('has no closing without the band', () => {
      const plain = turned({ framesPerTurn, frames: framesPerTurn + 20, missedAt: [5] }, null)
      expect(plain.closing).toMatchObject({ by: 'count' })
      expect(plain.steps).toMatchObject({ state: 'unknown', missed: [] })
    })
  })

  it('tells the offset by true angles where marks were passed over', () => {
    // Three marks passed over are 18° too many at the end: an even count would take that for a swing of the product.
    const frames = framesPerTurn + 2
    const body = {
      kind: 'unsymmetrical',
      offsetMm: 12,
      offsetBearingDeg: 60,
      widthPx: 120,
      heightPx: 90,
    } as const
    const wrong = { framesPerTurn, frames, missedAt: [20, 26, 32] }
    const seen = seenTake({ ...body, anglesDeg: turnAngles(wrong) })
    const even = seenTake({ ...body, anglesDeg: turnAngles({ framesPerTurn, frames }) })
    const of = { ...take, centreChoice: 'body' } as const
    const told = reportOf(of, plainTurn(seen.length), seen)
    const truth = reportOf(of, plainTurn(even.length), even)
    expect(told.steps.missed).toEqual([21, 27, 33])
    expect(told.centre.nudgeTowardsMark).toBe(truth.centre.nudgeTowardsMark)
    expect(told.centre.offset?.error).toBeLessThan(2 * (truth.centre.offset?.error ?? 0))
  })
})
