/**
 * What a smooth course leaves over: the matrix that takes the best polynomial out of values measured at these places
 * (identity less the projection on the polynomials; Gram and Schmidt, twice for the sake of rounding). Row by row.
 * The trace of it times the products of the values is the sum of the squares that is left.
 */
export function smoothRest(places: readonly number[], degree: number): Float64Array {
  const count = places.length
  const middle = places.reduce((sum, place) => sum + place, 0) / count
  const units: number[][] = []
  for (let power = 0; power <= degree; power++) {
    let unit = places.map((place) => (place - middle) ** power)
    for (let time = 0; time < 2; time++) for (const other of units) unit = without(unit, other)
    const length = Math.hypot(...unit)
    if (length > 1e-9) units.push(unit.map((value) => value / length))
  }
  const rest = new Float64Array(count * count)
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < count; j++) {
      const along = units.reduce((sum, unit) => sum + (unit[i] ?? 0) * (unit[j] ?? 0), 0)
      rest[i * count + j] = (i === j ? 1 : 0) - along
    }
  }
  return rest
}

function without(values: readonly number[], unit: readonly number[]): number[] {
  const along = values.reduce((sum, value, at) => sum + value * (unit[at] ?? 0), 0)
  return values.map((value, at) => value - along * (unit[at] ?? 0))
}
