import { normalDensity } from './normal.ts'
import { type Cost, restartMs } from './spinCost.ts'
import { type Spread, shapeOf, timeAt } from './spread.ts'

/**
 * Handling on the path of a run that two people work, by the step. While a spin is on the platter the second person
 * prepares the next one beside it, the part `share` of its handling; what is left of handling (placing, centring),
 * check frames, turning, row changes and restarts stay on the platter. The next spin goes on as soon as both are
 * done, so each spin but the last takes max(on the platter, beside for the next); the first one's preparation has
 * nothing beside it. A reshoot is handled by one pair of hands, as is a spin alone.
 *
 * Worked through from spin to spin: the moments of the time so far for each of a few handling times of the spin that
 * comes next, since a product that is long to prepare is long to centre too. Lognormal handling is read at even
 * places of its normal, whose sums are as good as integrals (trapezoidal rule). Restarts count in what the platter
 * gives the second person at their mean.
 * @param share  the part of handling done beside the platter, 0 to 1
 * @param apart  how many deviations the places lie apart: 1 is close, ½ closer
 * @returns what handling adds to frames, row changes and restarts: with the waiting of the platter for the product
 */
export function handlingOnPath(
  costs: readonly Cost[],
  share: number,
  apart: number,
): (stepMs: number) => Spread {
  const weights = weightsOf(apart)
  const places = costs.map((cost) => placesOf(cost, apart))
  return (stepMs) => onPath(costs, places, weights, share, stepMs)
}

function onPath(
  costs: readonly Cost[],
  places: readonly (readonly number[])[],
  weights: readonly number[],
  share: number,
  stepMs: number,
): Spread {
  const count = weights.length
  let handling = places[0] ?? []
  // The first three moments of the time so far, one after the other for each place of the spin that comes next.
  let soFar = new Float64Array(3 * count)
  for (let i = 0; i < count; i += 1) addMoved(soFar, i, 1, 0, 0, 0, share * (handling[i] as number))
  costs.forEach((cost, k) => {
    const turningMs = turningOf(cost, stepMs)
    // Nothing is prepared beside the last.
    const coming = places[k + 1] ?? [0]
    const then = new Float64Array(3 * count)
    for (let j = 0; j < coming.length; j += 1) {
      const besideMs = share * (coming[j] as number) - turningMs
      for (let i = 0; i < count; i += 1) {
        const onMs = (1 - share) * (handling[i] as number)
        const at = 3 * i
        addMoved(
          then,
          j,
          weights[i] as number,
          soFar[at] as number,
          soFar[at + 1] as number,
          soFar[at + 2] as number,
          Math.max(onMs, besideMs),
        )
      }
    }
    soFar = then
    handling = coming
  })
  const [one = 0, two = 0, three = 0] = soFar
  return {
    meanMs: one,
    variance: Math.max(0, two - one ** 2),
    third: three - 3 * one * two + 2 * one ** 3,
  }
}

/** Adds a part of all times to a place: those with these first three moments about 0, each so much longer. */
function addMoved(
  to: Float64Array,
  place: number,
  weight: number,
  one: number,
  two: number,
  three: number,
  ms: number,
): void {
  const at = 3 * place
  to[at] = (to[at] as number) + weight * (one + ms)
  to[at + 1] = (to[at + 1] as number) + weight * (two + ms * (2 * one + ms))
  to[at + 2] = (to[at + 2] as number) + weight * (three + ms * (3 * two + ms * (3 * one + ms)))
}

/** How long each platter waits for the next product, on average and in the order of the spins; the last waits for none. */
export function waitsMs(costs: readonly Cost[], share: number, stepMs: number): readonly number[] {
  const weights = weightsOf(closely)
  return costs.map((cost, k) => {
    const next = costs[k + 1]
    if (!next) return 0
    const turningMs = turningOf(cost, stepMs)
    const coming = placesOf(next, closely)
    return placesOf(cost, closely).reduce((sum, own, i) => {
      const onMs = (1 - share) * own + turningMs
      const waits = coming.reduce(
        (all, ms, j) => all + (weights[j] as number) * Math.max(0, share * ms - onMs),
        0,
      )
      return sum + (weights[i] as number) * waits
    }, 0)
  })
}

/** Places half a deviation apart, for a few spins and for what is read one by one. */
export const closely = 0.5

const deviations = 4

function weightsOf(apart: number): readonly number[] {
  const all = Array.from({ length: 2 * (deviations / apart) + 1 }, (_, i) =>
    normalDensity(i * apart - deviations),
  )
  const sum = all.reduce((a, b) => a + b, 0)
  return all.map((weight) => weight / sum)
}

function placesOf({ handling }: Cost, apart: number): readonly number[] {
  const shape = shapeOf(handling)
  return Array.from({ length: 2 * (deviations / apart) + 1 }, (_, i) => timeAt(shape, i * apart - deviations))
}

/** What a spin has on the platter but for its handling, with a restart at its mean. */
function turningOf(cost: Cost, stepMs: number): number {
  return cost.fixedMs + cost.frames * stepMs + restartMs(cost, stepMs)
}
