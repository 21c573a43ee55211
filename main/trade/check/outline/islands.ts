import type { RowEdges, RowIsland } from './rowEdges.ts'

/** The outline of one row, with what stands before the product in it. */
export interface RowFound extends RowEdges {
  readonly y: number
}

export interface RowSpan {
  readonly y: number
  readonly left: number
  readonly right: number
}

/** What lies apart on the platter is no part of the product where it is lower than this part of it. */
const lowPart = 0.1
const lowRows = 3
/** Rows of one thing may have this many between them in which it is not seen. */
const rowsBetween = 2

/** Something on the platter, row by row from its top. */
type Thing = {
  readonly y: number
  readonly from: number
  readonly to: number
  readonly island: RowIsland
}[]

/**
 * The outline of each row without what lies apart from the product on the platter, low and joined to it in no row, as
 * a mark on the platter's edge does. What hangs on to the product above or below, as a handle or a leg, belongs to it;
 * so does what stands as high as a part of a set.
 */
export function withoutIslands(found: readonly RowFound[]): readonly RowSpan[] {
  const left = strays(found, 'leftIslands')
  const right = strays(found, 'rightIslands')
  return found.map(({ y, ...row }) => ({
    y,
    left: outermost(row.leftIslands, left)?.outer ?? row.left,
    right: outermost(row.rightIslands, right)?.outer ?? row.right,
  }))
}

function outermost(islands: readonly RowIsland[], apart: ReadonlySet<RowIsland>): RowIsland | undefined {
  return islands.find((island) => !apart.has(island))
}

/** What of one side's islands is no part of the product. */
function strays(found: readonly RowFound[], side: 'leftIslands' | 'rightIslands'): ReadonlySet<RowIsland> {
  const things: Thing[] = []
  for (const row of found) {
    for (const island of row[side]) {
      const from = Math.min(island.outer, island.inner)
      const to = Math.max(island.outer, island.inner)
      const thing = things.find((one) => {
        const last = one.at(-1)
        const goesOn = last && last.y < row.y && row.y - last.y <= 1 + rowsBetween
        return goesOn && from <= last.to && to >= last.from
      })
      if (thing) thing.push({ y: row.y, from, to, island })
      else things.push([{ y: row.y, from, to, island }])
    }
  }
  const low = Math.max(lowRows, lowPart * found.length)
  const rows = new Map(found.map((row) => [row.y, row]))
  const apart = things.filter((thing) => thing.length <= low && !hangsOn(thing, rows))
  return new Set(apart.flatMap((thing) => thing.map(({ island }) => island)))
}

/** Whether the row above or below shows the product itself where the thing is. */
function hangsOn(thing: Thing, rows: ReadonlyMap<number, RowFound>): boolean {
  return [
    { end: thing[0], next: -1 },
    { end: thing.at(-1), next: 1 },
  ].some(({ end, next }) => {
    const row = end && rows.get(end.y + next)
    return row !== undefined && end !== undefined && row.left <= end.to && row.right >= end.from
  })
}
