/**
 * The least sum of costs where every row takes a column of its own (Kuhn 1955, Munkres 1957, by shortest augmenting
 * paths with potentials). An infinite cost counts as very large.
 * @param costs  a square of figures of 0 or more
 */
export function leastAssignment(costs: readonly (readonly number[])[]): number {
  const size = costs.length
  const rowPotential = new Float64Array(size + 1)
  const columnPotential = new Float64Array(size + 1)
  /** The row, from 1, that has taken a column; 0 for none. */
  const taken = new Int32Array(size + 1)
  const way = new Int32Array(size + 1)
  for (let row = 1; row <= size; row += 1) {
    taken[0] = row
    let column = 0
    const least = new Float64Array(size + 1).fill(Number.POSITIVE_INFINITY)
    const isSeen = new Uint8Array(size + 1)
    do {
      isSeen[column] = 1
      const from = taken[column] as number
      let delta = Number.POSITIVE_INFINITY
      let nearest = 0
      for (let to = 1; to <= size; to += 1) {
        if (isSeen[to]) continue
        const cost = Math.min(costs[from - 1]?.[to - 1] ?? 0, 1e12)
        const reduced = cost - (rowPotential[from] as number) - (columnPotential[to] as number)
        if (reduced < (least[to] as number)) {
          least[to] = reduced
          way[to] = column
        }
        if ((least[to] as number) < delta) {
          delta = least[to] as number
          nearest = to
        }
      }
      for (let to = 0; to <= size; to += 1) {
        if (isSeen[to]) {
          const owner = taken[to] as number
          rowPotential[owner] = (rowPotential[owner] as number) + delta
          columnPotential[to] = (columnPotential[to] as number) - delta
        } else least[to] = (least[to] as number) - delta
      }
      column = nearest
    } while (taken[column] !== 0)
    for (; column !== 0; column = way[column] as number)
      taken[column] = taken[way[column] as number] as number
  }
  return -(columnPotential[0] as number)
}
