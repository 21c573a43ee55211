/**
 * The standard normal distribution: how much of it lies below z. Marsaglia's series (Journal of Statistical
 * Software 11(4), 2004), good to 1e-15 in absolute terms; beyond 8 standard deviations 0 or 1. Infinite z are
 * taken, NaN is a bug.
 */
export function normalBelow(z: number): number {
  if (Number.isNaN(z)) throw new Error('normalBelow: z is NaN')
  if (z < -8) return 0
  if (z > 8) return 1
  let term = z
  let sum = z
  for (let i = 3; Math.abs(term) > 1e-17 * Math.abs(sum); i += 2) {
    term *= (z * z) / i
    sum += term
  }
  return 0.5 + sum * normalDensity(z)
}

/** The density of the standard normal distribution at z. */
export function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI)
}
