import fc from 'fast-check'
import { Matrix, solve } from 'ml-matrix'
import { describe, expect, it } from 'vitest'
import {
  type CentreFacts,
  type CentreFound,
  centreOf,
  defaultChoice,
} from '../../main/trade/check/centre/centre.ts'
import { centreFinding, centreSentence, centreStanding } from '../../main/trade/check/centre/centreWords.ts'
import { fittedValue, leastSquares } from '../../main/trade/check/centre/leastSquares.ts'
import { nudgeOf, ringMark } from '../../main/trade/check/centre/nudge.ts'
import { quickCentre, quickFrames, quickMarks } from '../../main/trade/check/centre/quickCentre.ts'
import { smallestSweep } from '../../main/trade/check/centre/sweepCircle.ts'
import { twoExtremes } from '../../main/trade/check/centre/twoExtremes.ts'
import { traceOf } from '../../main/trade/check/outline/trace.ts'
import { smallestCircle } from './render/smallestCircle.ts'
import { type RenderOptions, renderTake, turnAngles } from './render.ts'

const rows = (anglesDeg: readonly number[]) =>
  anglesDeg.map((angle) => [1, Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)])
const everyDeg = (step: number, count: number) => Array.from({ length: count }, (_, i) => i * step)

describe('the least-squares fit', () => {
  // x = c + a cos θ + b sin θ, worked in two independent ways: normal equations and ml-matrix (QR).
  it.each([
    [
      everyDeg(45, 8),
      [103, 104.949747468, 104, 100.707106781, 97, 95.050252532, 96, 99.292893219],
      [100, 3, 4],
    ],
    [
      everyDeg(30, 12),
      [2000, 2021, 2036, 2041, 2037, 2022, 2001, 1979, 1964, 1959, 1964, 1978],
      [2000.166666667, -0.538675135, 41.762280591],
    ],
    [
      everyDeg(15, 9),
      everyDeg(15, 9).map((d) => 640 - 7 * Math.cos((d * Math.PI) / 180) + 2 * Math.sin((d * Math.PI) / 180)),
      [640, -7, 2],
    ],
  ])('finds an eccentricity as worked by hand: case %#', (angles, values, terms) => {
    const fit = leastSquares(rows(angles), values)
    terms.forEach((term, i) => {
      expect(fit?.terms[i]).toBeCloseTo(term, 7)
    })
  })

  it('agrees with ml-matrix on any values and weights, and its covariance with the inverse', () => {
    const value = fc.double({ min: -100, max: 100, noNaN: true })
    const many = fc.array(fc.tuple(value, value, value), { minLength: 6, maxLength: 20 })
    fc.assert(
      fc.property(many, (drawn) => {
        const design = drawn.map(([a, b]) => [1, a / 50, b / 50 + (a * b) / 1e4])
        const values = drawn.map(([, , c]) => c)
        const whole = new Matrix(design)
        const normal = whole.transpose().mmul(whole)
        fc.pre(Math.abs(det3(normal)) > 1e-2)
        const reference = solve(whole, Matrix.columnVector(values), true).to1DArray()
        const fit = leastSquares(design, values)
        reference.forEach((term, i) => {
          expect(fit?.terms[i]).toBeCloseTo(term, 5)
        })
        const unit = normal.mmul(new Matrix((fit?.covariance ?? []).map((row) => [...row])))
        expect(unit.get(0, 0)).toBeCloseTo(1, 5)
        expect(unit.get(0, 1)).toBeCloseTo(0, 5)
      }),
    )
  })

  it('does not guess what the values do not tell', () => {
    expect(leastSquares(rows([10, 10, 10, 10]), [1, 2, 3, 4])).toBeNull()
    expect(leastSquares(rows([0, 90]), [1, 2])).toBeNull()
    expect(fittedValue([2, 3], [1, 10])).toBe(32)
  })
})

function det3(m: Matrix): number {
  const at = (r: number, c: number) => m.get(r, c)
  return (
    at(0, 0) * (at(1, 1) * at(2, 2) - at(1, 2) * at(2, 1)) -
    at(0, 1) * (at(1, 0) * at(2, 2) - at(1, 2) * at(2, 0)) +
    at(0, 2) * (at(1, 0) * at(2, 1) - at(1, 1) * at(2, 0))
  )
}

describe('the smallest swept circle', () => {
  it('is the smallest circle round the points whose tangents are given (Welzl 1991)', () => {
    const coordinate = fc.integer({ min: -60, max: 60 })
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 9 }), (points) => {
        const tangents = everyDeg(0.5, 720).map((deg) => {
          const phi = (deg * Math.PI) / 180
          const mm = Math.max(...points.map(([x, y]) => x * Math.cos(phi) + y * Math.sin(phi)))
          return { frame: 0, side: 1 as const, phi, mm }
        })
        const found = smallestSweep(tangents)
        const circle = smallestCircle(points)
        // Half a degree apart, tangents miss a corner by 1 − cos 0.25° of the radius.
        expect(found.radiusMm).toBeCloseTo(circle.radius, 1)
      }),
      { numRuns: 40 },
    )
  })
})

const limits = { centreUm: 1000 }

function centreOfTake(
  asked: Partial<RenderOptions>,
  facts: Partial<CentreFacts> = {},
): { readonly centre: CentreFound; readonly truth: ReturnType<typeof renderTake>['truth'] } {
  const { frames, truth } = renderTake({ anglesDeg: turnAngles({ framesPerTurn: 24 }), ...asked })
  const found = centreOf(
    frames.map((frame) => traceOf(frame)),
    {
      anglesDeg: truth.anglesDeg,
      turns: asked.turns ?? 'clockwise',
      pointerBearingDeg: 0,
      framesPerTurn: 24,
      mmPerPx: truth.mmPerPx,
      choice: 'body',
      camera: truth.camera,
      ...limits,
      ...facts,
    },
  )
  if (found.state === 'unknown') throw new Error(found.sentence)
  return { centre: found, truth }
}

describe('the centre', () => {
  it('does not push a mug off its body for the sake of its handle', () => {
    const { centre, truth } = centreOfTake({ kind: 'mug', offsetMm: 0, poseDeg: 40 })
    expect(centre.measuredOn).toBe('round body')
    expect(centre.offset).toBeLessThan(0.3)
    expect(centre.findings).toEqual([])
    expect(truth.leastSweep.offsetMm).toBeGreaterThan(12)
  })

  it('moves the mug by its handle where least sweep is chosen', () => {
    const { centre, truth } = centreOfTake(
      { kind: 'mug', anglesDeg: turnAngles({ framesPerTurn: 60 }) },
      { choice: 'least sweep', framesPerTurn: 60 },
    )
    expect(Math.abs(centre.offset - truth.leastSweep.offsetMm)).toBeLessThan(1)
    expect(centre.measuredOn).toBe('swept outline')
  })

  it('goes by the body of round goods and boxes, by the sweep of what is measured, until a person chooses', () => {
    expect([defaultChoice('round'), defaultChoice('box'), defaultChoice('measured')]).toEqual([
      'body',
      'body',
      'least sweep',
    ])
  })

  it.each(['clockwise', 'counter-clockwise'] as const)(
    'names a push after which the product stands on the axis: turning %s',
    (turns) => {
      const { centre, truth } = centreOfTake({ kind: 'can', offsetMm: 6, offsetBearingDeg: 200, turns })
      // In the pose in which it stands farthest right, it is pushed to the left by what it is off.
      const sign = turns === 'clockwise' ? 1 : -1
      const inThatPose = ((truth.body.bearingDeg + sign * centre.nudge.farthestRightDeg) * Math.PI) / 180
      expect(-truth.body.offsetMm * Math.sin(inThatPose)).toBeCloseTo(6, 1)
      expect(centre.nudge.distance).toBeCloseTo(6, 0)
      // The mark to push towards comes to the camera's side when the platter has turned so that the product is behind the axis.
      const behind = ((truth.body.bearingDeg + sign * centre.nudge.towardsDeg) * Math.PI) / 180
      expect(-truth.body.offsetMm * Math.cos(behind)).toBeCloseTo(6, 1)
      expect(centre.findings[0]?.fault).toBe('off centre')
      expect(centre.sentence).toMatch(/^The body’s middle is 6\.\d\s.*Push it 6\.\d\smm towards mark \d+;/u)
      // Words say the number on the ring, whose first mark is 1.
      expect(centre.sentence).toContain(`towards mark ${ringMark(centre.nudge.towardsMark)};`)
      expect(centre.sentence).toContain(
        `with mark ${ringMark(centre.nudge.farthestRightMark)} at the pointer`,
      )
    },
  )

  it('has the marks of a pointer at the right or behind a quarter or half a turn on', () => {
    const at = (pointerBearingDeg: number) =>
      nudgeOf(0, 5, { turns: 'clockwise', pointerBearingDeg, framesPerTurn: 240 })
    // Away from the camera by 5 mm: it is pushed towards the camera's side, where a pointer at 0 reads mark 0.
    expect([0, 90, 180, 270].map((bearing) => at(bearing).towardsMark)).toEqual([0, 60, 120, 180])
  })

  it('holds on a part of a turn, with a mark missed and unequal steps, and says how far to turn before', () => {
    const anglesDeg = turnAngles({ framesPerTurn: 36, frames: 15, missedAt: [4, 9], wobbleDeg: 0.6 })
    const { centre, truth } = centreOfTake({ kind: 'mug', offsetMm: 5, offsetBearingDeg: 130, anglesDeg })
    expect(Math.hypot(centre.x - truth.body.xMm, centre.y - truth.body.yMm)).toBeLessThan(0.4)
    expect(() => centreOfTake({ kind: 'mug', anglesDeg: everyDeg(10, 5) })).toThrow(/Turned 40° so far/u)
    expect(() => centreOfTake({ kind: 'box', anglesDeg: everyDeg(10, 13) })).toThrow(/from 200° on/u)
  })

  it('tells pixels where no scale is known, and finds no fault by them', () => {
    const { centre, truth } = centreOfTake({ kind: 'can', offsetMm: 6 }, { mmPerPx: null })
    expect(centre.unit).toBe('px')
    expect(centre.offset * truth.mmPerPx).toBeCloseTo(6, 0)
    expect(centre.findings).toEqual([])
  })

  it('is not told where no outline is', () => {
    const { emptyFrame } = renderTake({ platterY: null })
    const trace = traceOf(emptyFrame)
    const facts = {
      anglesDeg: everyDeg(60, 6),
      turns: 'clockwise',
      pointerBearingDeg: 0,
      framesPerTurn: 6,
    } as const
    const found = centreOf(
      everyDeg(60, 6).map(() => trace),
      { ...facts, mmPerPx: 1, choice: 'body', ...limits },
    )
    expect(found).toEqual({
      state: 'unknown',
      sentence: 'The outline of the product was told in 0 frames; 4 are needed.',
    })
  })
})

describe('the words of the centre', () => {
  const nudge = {
    distance: 6,
    towardsDeg: 0,
    towardsMark: 0,
    farthestRightDeg: 358.5,
    farthestRightMark: 239,
  }
  const told = (offset: number, error: number) =>
    ({ choice: 'body', measuredOn: 'body', unit: 'mm', quality: 1, nudge, offset, error }) as const

  it('say of the first mark 1 and of the last the turn’s count, as the ring does', () => {
    expect(centreSentence(told(6, 0.4), 1000)).toMatch(/towards mark 1; with mark 240 at the pointer/u)
  })

  it('find a fault only over the limit beyond the error bar, and where the bar is shorter than a third of the offset', () => {
    expect(centreFinding(told(6, 0.4), 1000)).toHaveLength(1)
    for (const [offset, error] of [
      [77.1, 52.7],
      [6, 2.1],
      [1.3, 0.4],
      [0.8, 0.3],
    ] as const) {
      expect(centreFinding(told(offset, error), 1000)).toEqual([])
      expect(centreStanding(told(offset, error), 1000)).toBe('open')
    }
    expect(centreSentence(told(77.1, 52.7), 1000)).toMatch(/too unsure to go by/u)
    expect(centreSentence(told(1.3, 0.4), 1000)).toMatch(/over the limit of 1\.0\smm cannot be told/u)
    expect(centreStanding(told(0.5, 0.3), 1000)).toBe('within')
  })
})

describe('quick frames', () => {
  const facts = { turns: 'clockwise', pointerBearingDeg: 0, framesPerTurn: 240, ...limits } as const

  it.each([
    ['mug', 4],
    ['box', 4],
    ['can', 6],
    ['box', 8],
  ] as const)('tell the body of a %s from %i frames', (kind, count) => {
    const marks = quickMarks(240, count)
    const { frames, truth } = renderTake({
      kind,
      offsetMm: 7,
      offsetBearingDeg: 250,
      poseDeg: 15,
      anglesDeg: marks.map((mark) => mark * 1.5),
    })
    const found = quickCentre(
      frames.map((frame) => traceOf(frame)),
      marks,
      { ...facts, mmPerPx: truth.mmPerPx, camera: truth.camera, choice: 'body' },
    )
    if (found.state === 'unknown') throw new Error(found.sentence)
    const away = Math.hypot(found.x - truth.body.xMm, found.y - truth.body.yMm)
    expect(away).toBeLessThan(0.35)
    expect(away).toBeLessThan(found.error)
  })

  it('lie evenly round the turn, an odd number for what is swept; fewer than four are refused, and one mark twice', () => {
    expect(quickMarks(244, 4)).toEqual([0, 61, 122, 183])
    expect(quickFrames['least sweep'] % 2).toBe(1)
    expect(() => quickMarks(240, 3)).toThrow(/Take 4 to 8/u)
    const twice = [0, 60, 120, 360]
    expect(() => quickCentre([], twice, { ...facts, mmPerPx: 1, choice: 'body' })).toThrow(/of mark 121/u)
  })
})

describe('two extremes read by hand', () => {
  const facts = {
    turns: 'clockwise',
    pointerBearingDeg: 0,
    framesPerTurn: 240,
    mmPerUnit: 1,
    readingError: 0.5,
  } as const

  it('give half of the full indicator movement: −0.01 and +0.03 is 0.04, an eccentricity of 0.02', () => {
    // machinecalc.pages.dev, cylindricity and runout: readings −0.01 and +0.03 are a TIR of 0.04.
    const { offsetMm } = twoExtremes({ mark: 10, reading: -0.01 }, { mark: 130, reading: 0.03 }, facts)
    expect(2 * offsetMm).toBeCloseTo(0.04, 12)
  })

  it('agree with the fit of all frames, in pixels by the scale', () => {
    // Peak to peak 83.531509051 px at 20 px/mm: an eccentricity of 2.088287726 mm, worked for the second case above.
    const { offsetMm, errorMm } = twoExtremes(
      { mark: 180, reading: 2000.166666667 - 83.531509051 / 2 },
      { mark: 60, reading: 2000.166666667 + 83.531509051 / 2 },
      { ...facts, mmPerUnit: 1 / 20, readingError: 1 },
    )
    expect(offsetMm).toBeCloseTo(2.088287726, 8)
    expect(errorMm).toBeCloseTo(0.05 / Math.SQRT2, 9)
  })

  it('push to the left at the right extreme, whichever way the platter turns', () => {
    for (const turns of ['clockwise', 'counter-clockwise'] as const) {
      const { nudge } = twoExtremes(
        { mark: 164, reading: 95 },
        { mark: 40, reading: 105 },
        { ...facts, turns },
      )
      expect(nudge.distance).toBeCloseTo(5, 9)
      // 164 is four marks more than half a turn from 40: the extreme lies two marks on.
      expect(nudge.farthestRightMark).toBe(42)
    }
  })

  it('are refused the wrong way round, at marks that are not opposite, and as no numbers', () => {
    const read = (left: object, right: object, scale = 1) =>
      twoExtremes(
        { mark: 0, reading: 1, ...left },
        { mark: 120, reading: 2, ...right },
        { ...facts, mmPerUnit: scale },
      )
    expect(() => read({ reading: 3 }, {})).toThrow(/Swap the two/u)
    expect(() => read({}, { mark: 60 })).toThrow(/Marks 1 and 61 are not about half a turn apart/u)
    expect(() => read({ reading: Number.NaN }, {})).toThrow(/Read it again/u)
    expect(() => read({}, {}, 0)).toThrow(/The scale/u)
  })
})
