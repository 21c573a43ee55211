import type { PlacedItem, Span } from './problem.ts'

/** Work that is booked as one block: neighbours of one job and rig on one bench, in the order they are turned. */
export interface PlanBlock {
  readonly bench: number
  readonly ids: readonly number[]
  readonly fromMin: number
  readonly toMin: number
  /** Minutes of set change at the block's start; a change that lies apart, on the evening before, has a span of its own. */
  readonly setChangeMin: number
  readonly changeApart: Span | null
  readonly latenessMin: number
}

interface BlockRules {
  readonly shortestMin?: number
  /** True where an item stays in the block of the one before it, new settings dialled between them. */
  readonly staysWith?: (before: number, id: number) => boolean
  /** True where an item begins a block of its own, since somebody else turns it than the one before it. */
  readonly isHandedOver?: (before: number, id: number) => boolean
}

const never = () => false

/**
 * Joins what a plan placed into blocks: an item follows into the block before it where both are of one group (job and rig)
 * and nothing lies between them, a set change least of all. Rows that lie in several stretches are blocks of their own. An item without any length still gets a
 * stretch of `shortestMin`, so that it can be seen and moved.
 */
export function blocksOf(
  placed: readonly PlacedItem[],
  groupOf: (id: number) => string,
  { shortestMin = 5, staysWith = never, isHandedOver = never }: BlockRules = {},
): readonly PlanBlock[] {
  const blocks: PlanBlock[] = []
  const ordered = [...placed].sort(
    (a, b) => a.bench - b.bench || a.startMin - b.startMin || a.endMin - b.endMin,
  )
  let isBroken = false
  for (const item of ordered) {
    const last = blocks.at(-1)
    const own = blocksOfItem(item, shortestMin)
    const follows = !isBroken && own.length === 1
    isBroken = own.length > 1
    const isOwn = isHandedOver(last?.ids.at(-1) ?? item.id, item.id)
    if (last && follows && !isOwn && joins(last, item, groupOf, staysWith)) {
      blocks[blocks.length - 1] = {
        ...last,
        ids: [...last.ids, item.id],
        toMin: Math.max(last.toMin, item.endMin),
        latenessMin: Math.max(last.latenessMin, item.latenessMin),
      }
    } else blocks.push(...own)
  }
  return blocks.sort((a, b) => a.fromMin - b.fromMin || a.bench - b.bench)
}

function joins(
  last: PlanBlock,
  item: PlacedItem,
  groupOf: (id: number) => string,
  staysWith: (before: number, id: number) => boolean,
): boolean {
  const { change } = item
  const isDialled = change?.fromMin === last.toMin && change.toMin === item.startMin
  return (
    last.bench === item.bench &&
    (change === null ? item.startMin <= last.toMin : isDialled && staysWith(last.ids.at(-1) ?? 0, item.id)) &&
    groupOf(last.ids[0] ?? item.id) === groupOf(item.id)
  )
}

/** One block a stretch: rows that lie on several days are blocks of their own. */
function blocksOfItem(item: PlacedItem, shortestMin: number): readonly PlanBlock[] {
  const { change } = item
  const stretches = joined(item.parts)
  return stretches.map(({ fromMin, toMin }, index) => {
    const own = index === 0 ? change : null
    const isBeside = own !== null && own.toMin === fromMin
    return {
      bench: item.bench,
      ids: [item.id],
      fromMin: isBeside ? own.fromMin : fromMin,
      toMin: Math.max(toMin, fromMin + shortestMin),
      setChangeMin: isBeside ? own.toMin - own.fromMin : 0,
      changeApart: own !== null && !isBeside ? own : null,
      latenessMin: item.latenessMin,
    }
  })
}

function joined(parts: readonly Span[]): readonly Span[] {
  const stretches: Span[] = []
  for (const part of parts) {
    const last = stretches.at(-1)
    if (last && last.toMin === part.fromMin) stretches[stretches.length - 1] = { ...last, toMin: part.toMin }
    else stretches.push(part)
  }
  return stretches
}
