import { afterAll, describe, expect, it } from 'vitest'
import { isOffCentre } from '../../main/trade/check/centre/centreWords.ts'
import type { Finding } from '../../main/trade/check/finding.ts'
import type { TakeReport } from '../../main/trade/check/report.ts'
import { aCleanTake, aDrawnTurn, type DrawnTurn, type PlannedTake, reportOfPlanned } from './aDrawnTurn.ts'
import { aFaultyTake, canShow, type FaultyTake, faultNames } from './aFaultyTake.ts'
import { randomOf } from './render.ts'

const kinds = ['unsymmetrical', 'mug', 'box', 'can'] as const
/** The marks of a turn as it is drawn, and which of them its takes are shot at: every one, every second … */
const marked = [
  { marks: 24, every: [1] },
  { marks: 36, every: [1] },
  { marks: 48, every: [2, 2, 1, 2] },
  { marks: 30, every: [1] },
  { marks: 72, every: [3, 2, 3, 3, 1] },
  { marks: 60, every: [2, 2, 2, 1] },
] as const
/** One turn of a few hundred marks. */
const fine = { marks: 240, every: [1, 10, 5, 4], past: 40 } as const

interface DrawnScene {
  readonly turn: DrawnTurn
  readonly every: readonly number[]
}

function aScene(seed: number, index: number, offsetMm: (random: () => number) => number): DrawnScene {
  const { marks, every } = marked[index % marked.length] ?? marked[0]
  const kind = kinds[index % kinds.length] ?? 'box'
  return { turn: aDrawnTurn({ kind, seed, marks, offsetMm: offsetMm(randomOf(seed)) }), every }
}

const takesOf = ({ turn, every }: DrawnScene, takes: number) =>
  Array.from({ length: takes }, (_, take) => aCleanTake(turn, every[take % every.length] ?? 1))

// Flicker, of all and of the product's own lamp, was put right by two of these takes; no other rule was made by them.
const firstSeed = 52_000

/** All takes, drawn when the first test asks for them; each next faulty take has the next fault that it can show. */
function drawAll() {
  const standing = Array.from({ length: 12 }, (_, index) =>
    takesOf(
      aScene(firstSeed + index, index, (random) => 0.6 * random()),
      8,
    ),
  )
  const fineTakes = takesOf(
    { turn: aDrawnTurn({ kind: 'unsymmetrical', seed: firstSeed + 90, offsetMm: 0.4, ...fine }), ...fine },
    4,
  )
  // Two takes of each of eight products that stand off the axis; each take three times, with another fault.
  const offAxis = Array.from({ length: 8 }, (_, index) =>
    takesOf(
      aScene(firstSeed + 50 + index, index + 2, (random) => 2 + 6 * random()),
      2,
    ),
  ).flat()
  // A mug in a picture too narrow for it and its handle.
  const narrow = { kind: 'mug', seed: firstSeed + 80, marks: 24, offsetMm: 0, fieldWidthMm: 125 } as const
  let next = 0
  const faulty = (take: PlannedTake): FaultyTake => {
    for (;;) {
      const fault = faultNames[next++ % faultNames.length] ?? 'drift'
      if (canShow(take, fault)) return aFaultyTake(take, fault)
    }
  }
  return {
    clean: [...standing.flat(), ...fineTakes],
    offAxis,
    faulty: [
      ...[...standing.flatMap((takes) => takes.slice(0, 4)), ...fineTakes.slice(0, 2)].map(faulty),
      ...offAxis.flatMap((take) => [take, take, take]).map(faulty),
    ],
    leaving: takesOf({ turn: aDrawnTurn(narrow), every: [1] }, 2),
  }
}

let drawn: ReturnType<typeof drawAll> | undefined
const takes = () => {
  drawn ??= drawAll()
  return drawn
}

const words = ({ turn, framesPerTurn, overlap }: PlannedTake) =>
  `${turn.kind}, ${framesPerTurn} + ${overlap} frames`
const keysOf = (findings: readonly Finding[]) => findings.map(({ key }) => key)
const isPassed = (key: string) => /^(missed step|not placed|frames per turn)/.test(key)

/** How far the offset that is told is from the truth, as a part of what it may be: 0.3 mm or 5 %. */
function awayParts({ turn }: PlannedTake, { centre }: TakeReport): number {
  const { offset } = centre
  if (offset?.unit !== 'mm') return Number.POSITIVE_INFINITY
  return Math.abs(offset.value - turn.place.offsetMm) / Math.max(0.3, 0.05 * turn.place.offsetMm)
}

/** The mark to push towards, by the truth: the one that comes to the pointer, before the camera, as it stands opposite. */
function opposite({ turn, framesPerTurn, isReversed, frames }: PlannedTake): number {
  const way = turn.turns === 'clockwise' ? 1 : -1
  const first = turn.drawn.truth.anglesDeg[frames[0]?.at ?? 0] ?? 0
  const bearingDeg = turn.place.bearingDeg + way * first + 180
  const turned = way * (isReversed ? -1 : 1)
  return ((((-turned * bearingDeg) / 360) * framesPerTurn) % framesPerTurn) + framesPerTurn
}

/** How far two marks of a turn are from each other, in degrees. */
function apartDeg(a: number, b: number, framesPerTurn: number): number {
  const apart = (((a - b) % framesPerTurn) + framesPerTurn) % framesPerTurn
  return (Math.min(apart, framesPerTurn - apart) * 360) / framesPerTurn
}

const stated: string[] = []

/** So many takes of all, and which others. */
function state(what: string, found: number, all: number, others: readonly string[] = []): void {
  stated.push([`${what}: ${found} of ${all}`, ...others.map((other) => `  ${other}`)].join('\n'))
}

describe('the whole report over 200 random takes of 96 × 72 and 112 × 84, of 24 to 240 frames per turn', () => {
  afterAll(() => console.info(stated.join('\n')))

  it('finds no fault in 100 clean takes, and tells the offset of all within 0.3 mm', {
    timeout: 180_000,
  }, () => {
    const { clean } = takes()
    expect(clean).toHaveLength(100)
    const reports = clean.map((take) => ({ take, report: reportOfPlanned(take) }))
    const withKeys = (isFault: boolean) =>
      reports.flatMap(({ take, report }) => {
        const keys = keysOf(report.findings.filter(({ fault }) => (fault !== null) === isFault))
        return keys.length === 0 ? [] : [`${words(take)}: ${keys.join(', ')}`]
      })
    const known = withKeys(false)
    state('clean takes with something to be known that is no fault', known.length, clean.length, known)
    const away = reports.map(({ take, report }) => awayParts(take, report))
    state('offsets of clean takes within 0.3 mm', away.filter((parts) => parts <= 1).length, clean.length)
    expect(withKeys(true)).toEqual([])
    expect(Math.max(...away)).toBeLessThanOrEqual(1)
  })

  it('finds every fault of 98 takes that have one, or two of which one is their offset', {
    timeout: 180_000,
  }, () => {
    const all = takes().faulty
    expect(all).toHaveLength(98)
    const reports = all.map((one) => ({ ...one, report: reportOfPlanned(one.take) }))
    const isFound = ({ expected, report }: (typeof reports)[number]) =>
      expected.every((expectedKey) => report.findings.some(({ key }) => key === expectedKey))
    for (const fault of faultNames) {
      const of = reports.filter((one) => one.fault === fault)
      const lost = of.filter((one) => !isFound(one))
      state(
        fault,
        of.length - lost.length,
        of.length,
        lost.map(({ take, report }) => `${words(take)}: ${keysOf(report.findings).join(', ')}`),
      )
      if (fault !== 'mark passed over')
        expect([fault, lost.map(({ take }) => words(take))]).toEqual([fault, []])
      // A mark that was passed over is told of every turn that was seen to close, and its place in two of three.
      expect(lost.length).toBeLessThanOrEqual(of.length / 3)
      const untold = lost.filter(({ report }) => !report.findings.some(({ key }) => isPassed(key)))
      expect(untold.filter(({ take }) => take.overlap > 0).map(({ take }) => words(take))).toEqual([])
    }
    const invented = reports.flatMap(({ take, fault, expected, report }) => {
      const isOff = take.turn.place.offsetMm > 1
      const others = report.findings
        .filter((finding) => finding.fault !== null && !expected.includes(finding.key))
        .filter(({ key }) => !(isOff && isOffCentre(key)) && !(fault === 'mark passed over' && isPassed(key)))
      return others.length === 0 ? [] : [{ take, fault, keys: keysOf(others) }]
    })
    state(
      'takes with a fault in which another is invented',
      invented.length,
      all.length,
      invented.map(({ take, fault, keys }) => `${words(take)}, ${fault}: ${keys.join(', ')}`),
    )
    // Only marks passed over, where the picture no longer closes the turn or a frame beside cannot be read.
    expect(invented.flatMap(({ keys }) => keys).filter((key) => !isPassed(key))).toEqual([])
    expect(invented.length).toBeLessThanOrEqual(0.03 * all.length)
  })

  it('finds what stands off the axis, by how much and which way to push, and where its bar is too long leaves it open', {
    timeout: 180_000,
  }, () => {
    const reports = takes().offAxis.map((take) => ({ take, report: reportOfPlanned(take) }))
    const away = reports.map(({ take, report }) => awayParts(take, report))
    state('offsets of 2 to 8 mm within 0.3 mm or 5 %', away.filter((parts) => parts <= 1).length, away.length)
    const found = reports.filter(({ report }) => report.findings.some(({ key }) => isOffCentre(key)))
    const open = reports.filter(({ report }) => report.centre.state === 'unknown')
    state(
      'offsets of 2 to 8 mm found',
      found.length,
      reports.length,
      open.map(
        ({ take, report }) =>
          `${words(take)}, ${take.turn.place.offsetMm.toFixed(1)} mm: ${report.centre.sentence}`,
      ),
    )
    expect(found.length).toBeGreaterThanOrEqual(0.9 * reports.length)
    // One that is left open may be farther off: its bar says so.
    expect(Math.max(...found.map(({ take, report }) => awayParts(take, report)))).toBeLessThanOrEqual(1)
    for (const { take, report } of found) {
      const { offsetMm } = take.turn.place
      const least = (Math.asin(Math.max(0.3, 0.05 * offsetMm) / offsetMm) * 180) / Math.PI
      const marks = take.framesPerTurn
      const off = apartDeg(report.centre.nudgeTowardsMark ?? Number.NaN, opposite(take), marks)
      expect(off).toBeLessThanOrEqual(least + 180 / marks + 1)
    }
    expect(found.length + open.length).toBe(reports.length)
  })

  it('finds a product that leaves the picture, at both sides', () => {
    for (const take of takes().leaving) {
      const keys = keysOf(reportOfPlanned(take).findings)
      expect(keys).toEqual(expect.arrayContaining(['leaves left', 'leaves right']))
    }
  })
})
