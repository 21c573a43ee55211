/** A least-squares fit: its terms, and how they vary together for a residual deviation of 1. */
export interface LinearFit {
  readonly terms: readonly number[]
  /** (AᵀWA)⁻¹: times the square of the residual deviation, the covariance of the terms. */
  readonly covariance: readonly (readonly number[])[]
  /** Weighted sum of squared residuals. */
  readonly squares: number
}

/**
 * Weighted linear least squares by the normal equations (Gauss), solved by Cholesky's factors.
 * @param rows     a row of the design per value
 * @param weights  one per value; all 1 where left out
 * @param ridge    added to the squares of every term but the first: pulls what the values do not tell towards 0
 * @returns        null where the values do not tell the terms apart
 */
export function leastSquares(
  rows: readonly (readonly number[])[],
  values: readonly number[],
  { weights, ridge = 0 }: { readonly weights?: readonly number[]; readonly ridge?: number } = {},
): LinearFit | null {
  const count = rows[0]?.length ?? 0
  if (count === 0 || rows.length < count) return null
  const normal = Array.from({ length: count }, () => new Array<number>(count).fill(0))
  const right = new Array<number>(count).fill(0)
  rows.forEach((row, index) => {
    const weight = weights?.[index] ?? 1
    for (let i = 0; i < count; i++) {
      const scaled = weight * (row[i] as number)
      right[i] = (right[i] as number) + scaled * (values[index] as number)
      const line = normal[i] as number[]
      for (let j = 0; j <= i; j++) line[j] = (line[j] as number) + scaled * (row[j] as number)
    }
  })
  for (let i = 1; i < count; i++) (normal[i] as number[])[i] = ((normal[i] as number[])[i] as number) + ridge
  const factor = choleskyFactor(normal)
  if (!factor) return null
  const terms = solved(factor, right)
  const covariance = right.map((_, i) =>
    solved(
      factor,
      right.map((_, j) => (i === j ? 1 : 0)),
    ),
  )
  let squares = 0
  rows.forEach((row, index) => {
    const residual = (values[index] as number) - fittedValue(terms, row)
    squares += (weights?.[index] ?? 1) * residual * residual
  })
  return { terms, covariance, squares }
}

/**
 * Solves the normal equations of fits that share a design.
 * @param lower  AᵀA, of which the lower half counts
 * @param rights Aᵀb of each fit
 * @param ridge  added to the squares of every term but the first, as in `leastSquares`
 * @returns      the terms of each fit; null where the values do not tell them apart
 */
export function solvedNormal(
  lower: readonly (readonly number[])[],
  rights: readonly (readonly number[])[],
  ridge: number,
): readonly (readonly number[])[] | null {
  const ridged = lower.map((line, i) => line.map((value, j) => (i > 0 && i === j ? value + ridge : value)))
  const factor = choleskyFactor(ridged)
  return factor && rights.map((right) => solved(factor, right))
}

/** What the terms give for a row of the design. */
export function fittedValue(terms: readonly number[], row: readonly number[]): number {
  let sum = 0
  for (let i = 0; i < terms.length; i++) sum += (terms[i] as number) * (row[i] as number)
  return sum
}

/** The lower factor of a symmetric matrix given by its lower half; null where it is not positive definite. */
function choleskyFactor(lower: readonly (readonly number[])[]): number[][] | null {
  const factor = lower.map((row) => row.map(() => 0))
  for (let i = 0; i < lower.length; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = lower[i]?.[j] as number
      for (let k = 0; k < j; k++) sum -= (factor[i]?.[k] as number) * (factor[j]?.[k] as number)
      const line = factor[i] as number[]
      if (i !== j) line[j] = sum / (factor[j]?.[j] as number)
      else if (sum > 1e-10 * (lower[i]?.[i] as number)) line[i] = Math.sqrt(sum)
      else return null
    }
  }
  return factor
}

function solved(factor: readonly (readonly number[])[], right: readonly number[]): number[] {
  const count = right.length
  const out = [...right]
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < i; k++) out[i] = (out[i] as number) - (factor[i]?.[k] as number) * (out[k] as number)
    out[i] = (out[i] as number) / (factor[i]?.[i] as number)
  }
  for (let i = count - 1; i >= 0; i--) {
    for (let k = i + 1; k < count; k++)
      out[i] = (out[i] as number) - (factor[k]?.[i] as number) * (out[k] as number)
    out[i] = (out[i] as number) / (factor[i]?.[i] as number)
  }
  return out
}
