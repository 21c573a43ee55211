import { placeOf } from './rigDrawing/places.ts'

/** A light as far as it is moved: what it is and where it stands. */
export interface StandingLight {
  readonly kind: string
  readonly modifier: string | null
  readonly bearingMdeg: number
  readonly elevationMdeg: number
  readonly distanceUm: number
  readonly heightUm: number
}

/** Two lights that are one and the same, by their places in either list; null where only one of the rigs has it. */
export interface LightPair {
  readonly before: number | null
  readonly after: number | null
  /** It stands exactly as it did. */
  readonly stays: boolean
}

/**
 * Which light of one rig becomes which of another: those that stand alike stay, whatever their place in the list; of
 * the others the nearest of a kind belong together, then the nearest; what is left over is brought or taken away. Of n lights and m
 * lights max(n, m) pairs come, in the order of the first list, then of the second.
 */
export function pairLights(
  before: readonly StandingLight[],
  after: readonly StandingLight[],
): readonly LightPair[] {
  const partnerOf = new Map<number, { readonly after: number; readonly stays: boolean }>()
  const taken = new Set<number>()
  const join = (b: number, a: number, stays: boolean) => {
    partnerOf.set(b, { after: a, stays })
    taken.add(a)
  }
  before.forEach((light, b) => {
    const a = after.findIndex((other, index) => !taken.has(index) && placeKey(light) === placeKey(other))
    if (a >= 0) join(b, a, true)
  })
  const ways = before.flatMap((light, b) => after.map((other, a) => ({ b, a, way: wayMm(light, other) })))
  for (const { b, a } of ways.sort((x, y) => x.way - y.way || x.b - y.b || x.a - y.a)) {
    if (!partnerOf.has(b) && !taken.has(a)) join(b, a, false)
  }
  return [
    ...before.map((_, b): LightPair => {
      const partner = partnerOf.get(b)
      return { before: b, after: partner?.after ?? null, stays: partner?.stays ?? false }
    }),
    ...after.flatMap((_, a): LightPair[] => (taken.has(a) ? [] : [{ before: null, after: a, stays: false }])),
  ]
}

function placeKey({
  kind,
  modifier,
  bearingMdeg,
  elevationMdeg,
  distanceUm,
  heightUm,
}: StandingLight): string {
  return JSON.stringify([kind, modifier, bearingMdeg, elevationMdeg, distanceUm, heightUm])
}

/** How far apart two lights stand, in mm; lights of different kinds are farther apart than any studio is wide. */
function wayMm(a: StandingLight, b: StandingLight): number {
  const [from, to] = [a, b].map(({ bearingMdeg, distanceUm }) =>
    placeOf({ bearingDeg: bearingMdeg / 1000, distanceMm: distanceUm / 1000 }),
  )
  const level = Math.hypot((from?.x ?? 0) - (to?.x ?? 0), (from?.y ?? 0) - (to?.y ?? 0))
  return Math.hypot(level, (a.heightUm - b.heightUm) / 1000) + (a.kind === b.kind ? 0 : 1e6)
}
