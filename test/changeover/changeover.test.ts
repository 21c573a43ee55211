import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { changeoverItems, changeoverMs, type StandingRig } from '../../main/trade/changeover.ts'
import { pairLights, type StandingLight } from '../../main/trade/lightPairs.ts'
import { aPace } from '../estimate/aPace.ts'

function aLight(differs: Partial<StandingLight> = {}): StandingLight {
  return {
    kind: 'strip',
    modifier: null,
    bearingMdeg: 45_000,
    elevationMdeg: 0,
    distanceUm: 900_000,
    heightUm: 0,
    ...differs,
  }
}

function aStandingRig(differs: Partial<StandingRig> = {}): StandingRig {
  return {
    platterId: 1,
    backdrop: 'white sweep',
    camera: 'body A',
    cameraDistanceUm: 1_200_000,
    cameraHeightUm: 300_000,
    cameraTiltMdeg: 0,
    lens: 'short tele',
    focalUm: 100_000,
    lights: [aLight(), aLight({ bearingMdeg: 315_000 })],
    ...differs,
  }
}

describe('the set change between two rigs', () => {
  const times = aPace()

  it('costs nothing where the same rig stands, and little for new settings', () => {
    expect(changeoverMs(aStandingRig(), aStandingRig(), false, times)).toBe(0)
    expect(changeoverMs(aStandingRig(), aStandingRig(), true, times)).toBe(60_000)
  })

  it('is the sum of the parts that differ', () => {
    // The pace's own figures, added up by hand.
    const to = aStandingRig({ platterId: 2, lens: 'long tele', cameraHeightUm: 500_000 })
    expect(changeoverMs(aStandingRig(), to, false, times)).toBe(900_000 + 240_000 + 480_000)
    expect(changeoverMs(aStandingRig(), aStandingRig({ backdrop: 'grey sweep' }), true, times)).toBe(
      600_000 + 60_000,
    )
  })

  it('counts each light moved, brought or taken away once, whatever its place in the list', () => {
    const [a, b] = [aLight(), aLight({ bearingMdeg: 315_000 })]
    const lights = (list: StandingLight[]) =>
      changeoverMs(aStandingRig(), aStandingRig({ lights: list }), false, times)
    expect(lights([b, a])).toBe(0)
    expect(lights([a])).toBe(300_000)
    expect(lights([a, b, aLight({ bearingMdeg: 90_000 })])).toBe(300_000)
    expect(lights([aLight({ heightUm: 1 }), aLight({ modifier: 'grid' })])).toBe(600_000)
    expect(lights([a, a])).toBe(300_000)
  })

  it('sets up every part from an empty bench', () => {
    expect(changeoverMs(null, aStandingRig(), true, times)).toBe(
      900_000 + 600_000 + 480_000 + 240_000 + 2 * 300_000 + 60_000,
    )
  })

  it('is the same both ways, and never dearer by a straight change than by way of a third rig', () => {
    const light = fc.constantFrom(0, 90_000, 180_000, 270_000).map((bearingMdeg) => aLight({ bearingMdeg }))
    const rig = fc
      .record({
        platterId: fc.nat(2),
        lens: fc.constantFrom('a', 'b'),
        camera: fc.constantFrom('a', 'b'),
        backdrop: fc.constantFrom('a', 'b'),
        lights: fc.array(light, { maxLength: 4 }),
      })
      .map(aStandingRig)
    fc.assert(
      fc.property(rig, rig, rig, (a, b, c) => {
        const between = (x: StandingRig, y: StandingRig) => changeoverMs(x, y, false, times)
        expect(between(a, b)).toBe(between(b, a))
        expect(between(a, a)).toBe(0)
        expect(between(a, c)).toBeLessThanOrEqual(between(a, b) + between(b, c))
      }),
    )
  })

  it('is itemised by what there is to do, and the items add up to the whole', () => {
    const to = aStandingRig({
      platterId: 2,
      lights: [aLight({ bearingMdeg: 310_000 }), aLight(), aLight({ kind: 'octobox', bearingMdeg: 0 })],
    })
    // The pace's own figures; the first light stays although it is now the second of the list.
    expect(changeoverItems(aStandingRig(), to, true, times)).toEqual([
      { part: 'platter', light: null, ms: 900_000 },
      { part: 'light', light: { before: 1, after: 0 }, ms: 300_000 },
      { part: 'light', light: { before: null, after: 2 }, ms: 300_000 },
      { part: 'settings', light: null, ms: 60_000 },
    ])
    const light = fc.record({
      kind: fc.constantFrom('strip', 'octobox'),
      bearingMdeg: fc.constantFrom(0, 90_000, 180_000),
      heightUm: fc.constantFrom(0, 400_000),
    })
    const rig = fc
      .record({
        platterId: fc.nat(1),
        camera: fc.constantFrom('a', 'b'),
        lights: fc.array(light.map(aLight), { maxLength: 6 }),
      })
      .map(aStandingRig)
    fc.assert(
      fc.property(rig, rig, fc.boolean(), (a, b, newSettings) => {
        const items = changeoverItems(a, b, newSettings, times)
        expect(items.reduce((sum, { ms }) => sum + ms, 0)).toBe(changeoverMs(a, b, newSettings, times))
        const pairs = pairLights(a.lights, b.lights)
        expect(pairs).toHaveLength(Math.max(a.lights.length, b.lights.length))
        // Every light of either rig is in exactly one pair.
        const places = (side: 'before' | 'after') =>
          pairs.flatMap((pair) => pair[side] ?? []).sort((x, y) => x - y)
        expect(places('before')).toEqual(a.lights.map((_, index) => index))
        expect(places('after')).toEqual(b.lights.map((_, index) => index))
      }),
    )
  })
})
