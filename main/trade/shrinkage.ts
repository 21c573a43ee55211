/**
 * A level drawn from its own values toward the level above it: their mean weighs n / (n + worth), the level above
 * the rest. This is the posterior mean of a normal level with `worth` = σ² within ÷ τ² between.
 * @param worth  how many values the level above is worth, over 0
 */
export function shrunk(above: number, mean: number, n: number, worth: number): number {
  if (!(worth > 0) || !(n >= 0)) throw new Error(`shrunk: ${n} values against a level worth ${worth}`)
  return n === 0 ? above : (worth * above + n * mean) / (worth + n)
}

/**
 * The chance of an event after seeing it `hits` times in `trials`: the mean of the Beta posterior whose prior has
 * the setting as its mean and is worth so many trials, Beta(setting × worth + hits, (1 − setting) × worth +
 * trials − hits).
 */
export function betaMean(setting: number, worth: number, hits: number, trials: number): number {
  if (!(worth > 0) || !(setting >= 0 && setting <= 1) || !(hits >= 0 && hits <= trials)) {
    throw new Error(`betaMean: ${hits} of ${trials} with a prior of ${setting} worth ${worth}`)
  }
  return (setting * worth + hits) / (worth + trials)
}

/**
 * Values as they come, of which the newest count most: hands get faster, and an old rig says little of today's.
 * Each value lets those before it count 1/200 less, so that never more than 200 count in full.
 */
export class Seen {
  /** How many values there were, each counted in full. */
  count = 0
  #weight = 0
  #sum = 0
  #squares = 0
  /** When the newest was seen, in ms since 1970. */
  lastMs: number | null = null

  /**
   * @param weight  how much the value says, over 0 to 1
   * @param off     how far it was from what was expected of it
   */
  add(value: number, weight: number, off: number, atMs: number): void {
    const kept = 1 - 1 / 200
    this.count += 1
    this.#weight = this.#weight * kept + weight
    this.#sum = this.#sum * kept + weight * value
    this.#squares = this.#squares * kept + weight * off * off
    this.lastMs = atMs
  }

  /** The mean of the values; 0 while there is none. */
  mean(): number {
    return this.#weight === 0 ? 0 : this.#sum / this.#weight
  }

  /** The level of these values, drawn toward the level above. */
  level(above: number, worth: number): number {
    return shrunk(above, this.mean(), this.#weight, worth)
  }

  /** The part of the values in their level, 0 to under 1. */
  part(worth: number): number {
    return this.#weight / (this.#weight + worth)
  }

  /**
   * The variance of values about what was expected of them, drawn toward that of the setting: the scale of the
   * scaled inverse χ² posterior, (ν₀·s₀² + Σ off²) / (ν₀ + n).
   */
  variance(setting: number, worth: number): number {
    return (worth * setting + this.#squares) / (worth + this.#weight)
  }
}
