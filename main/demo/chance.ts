/** The demo's own dice: the same seed throws the same numbers, so that every demo studio is the same. */
export interface Chance {
  /** From 0 up to, but without, 1. */
  fraction(): number
  /** A whole number from `least` to `most`, both possible. */
  whole(least: number, most: number): number
  /** True in that share of throws. */
  happens(share: number): boolean
  /** One of the list. */
  one<T>(list: readonly T[]): T
  /** A log-normal value with this median; `spread` is the standard deviation of its logarithm. */
  logNormal(median: number, spread: number): number
}

/** Mulberry32, a 32-bit generator in the public domain (from memory): even enough for times and choices. */
export function chanceOf(seed: number): Chance {
  let state = seed >>> 0
  const fraction = () => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296
  }
  return {
    fraction,
    whole: (least, most) => least + Math.floor(fraction() * (most - least + 1)),
    happens: (share) => fraction() < share,
    one: (list) => {
      const thrown = list[Math.floor(fraction() * list.length)]
      if (thrown === undefined) throw new Error('There is nothing to choose from.')
      return thrown
    },
    // Box and Muller's transform of two even numbers into a normal one.
    logNormal: (median, spread) =>
      median *
      Math.exp(spread * Math.sqrt(-2 * Math.log(1 - fraction())) * Math.cos(2 * Math.PI * fraction())),
  }
}
