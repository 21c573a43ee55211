import type { Tangent } from './tangents.ts'

export interface SweepCircle {
  readonly x: number
  readonly y: number
  readonly radiusMm: number
}

/**
 * The smallest circle that holds everything within the tangents: from its middle the farthest tangent is nearest. That
 * distance is convex in the place, so that a search by golden sections, one axis within the other, ends at the least.
 */
export function smallestSweep(tangents: readonly Tangent[]): SweepCircle {
  const cos = tangents.map(({ phi }) => Math.cos(phi))
  const sin = tangents.map(({ phi }) => Math.sin(phi))
  const mm = tangents.map((tangent) => tangent.mm)
  const reach = Math.max(...mm.map(Math.abs))
  const farthest = (x: number, y: number) => {
    let most = Number.NEGATIVE_INFINITY
    for (let i = 0; i < mm.length; i++) {
      const distance = (mm[i] as number) - x * (cos[i] as number) - y * (sin[i] as number)
      if (distance > most) most = distance
    }
    return most
  }
  const bestY = (x: number) => goldenSection((y) => farthest(x, y), -reach, reach)
  const x = goldenSection((tried) => farthest(tried, bestY(tried)), -reach, reach)
  const y = bestY(x)
  return { x, y, radiusMm: farthest(x, y) }
}

const golden = (Math.sqrt(5) - 1) / 2

/** Where a convex function is least between two places, to a 100,000th of what is between them (Kiefer 1953). */
function goldenSection(of: (at: number) => number, from: number, to: number): number {
  let a = from
  let b = to
  let c = b - golden * (b - a)
  let d = a + golden * (b - a)
  let atC = of(c)
  let atD = of(d)
  for (let i = 0; i < 24; i++) {
    if (atC < atD) {
      b = d
      d = c
      atD = atC
      c = b - golden * (b - a)
      atC = of(c)
    } else {
      a = c
      c = d
      atC = atD
      d = a + golden * (b - a)
      atD = of(d)
    }
  }
  return (a + b) / 2
}
