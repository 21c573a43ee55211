import type { Span } from './problem.ts'

/** A booked block with the set change at its start, in whole minutes from one instant for all. */
export interface BenchBlock {
  readonly id: number
  readonly bench: number
  /** Where its set change begins, or its work where it has none. */
  readonly fromMin: number
  readonly setChangeMin: number
  readonly workMin: number
  /** The rig its first spin needs and the one its last leaves; null where it takes what stands. */
  readonly rig: { readonly first: number; readonly last: number } | null
  /** Fixed, or begun already: it never moves. */
  readonly stays: boolean
}

/** What a move is tried on: the blocks of the benches it touches, and what lies behind them. */
export interface BenchesNow {
  readonly blocks: readonly BenchBlock[]
  /** Stretches of opening hours that end after a minute, in their order; those that touch are one. */
  readonly openFrom: (bench: number, min: number) => Iterable<Span>
  /** What stands on a bench before its first block here; null where nothing does. */
  readonly standing: (bench: number) => number | null
  readonly changeoverMin: (from: number | null, to: number) => number
}

export interface BlockMove {
  readonly id: number
  readonly bench: number
  /** Where the block is let go: its set change would begin here. */
  readonly atMin: number
  /** True where the blocks behind the place it leaves, up to `closesUntilMin`, are to move up into it. */
  readonly closesUp: boolean
  readonly closesUntilMin: number
}

/** Why a move cannot be, whatever the reason, and which block speaks against it. */
export interface MoveRefused {
  readonly why: 'stays' | 'closed' | 'in the way' | 'no place'
  readonly id: number
  /** How long that block would be there, with its set change. */
  readonly lengthMin: number
}

export interface MoveMade {
  /** Every block of the benches, where it would lie then. */
  readonly blocks: readonly BenchBlock[]
  /** Blocks that stay, whose set change would take longer than what is kept for it. */
  readonly short: readonly { readonly id: number; readonly neededMin: number }[]
}

/**
 * Where the blocks of a bench would lie once one of them is moved. Let go in free time it lies exactly there (only
 * what lies before it and grows may push it on); over the first half of another block it comes before it, over the second
 * half behind it. What it would overlap moves along in its
 * order, just as far as it must, over breaks, closed time and blocks that stay. A set change is worked out anew
 * where another rig stands before a block than today; where it needs less, the work stays and the change begins later.
 * Refuses a block that stays, a place that is closed or taken by one that stays, and a block that then finds no place.
 */
export function moveBlock(now: BenchesNow, move: BlockMove): MoveMade | MoveRefused {
  const moved = now.blocks.find(({ id }) => id === move.id)
  if (!moved) throw new Error(`There is no block ${move.id} to move.`)
  if (moved.stays) return refusedFor('stays', moved)
  const hole = holeOf(now, moved, move)
  const done = now.blocks.filter(({ bench }) => bench !== moved.bench && bench !== move.bench)
  const short: { id: number; neededMin: number }[] = []
  for (const bench of new Set([moved.bench, move.bench])) {
    const others = inOrder(now.blocks.filter((block) => block.bench === bench && block.id !== moved.id))
    const queue: readonly Waiting[] | MoveRefused =
      bench === move.bench
        ? queueWith(others, moved, move, hole)
        : others.map((block) => waiting(block, hole))
    if ('why' in queue) return queue
    const laid = layOut(now, bench, queue)
    if ('why' in laid) return laid
    done.push(...laid.blocks)
    short.push(...laid.short)
  }
  return { blocks: inOrder(done), short }
}

/** A block that waits for its place, and where it would like to begin. */
interface Waiting {
  readonly block: BenchBlock
  /** How far it may move up. */
  readonly upMin: number
  /** Its first minute where it was asked to lie: exactly there, or from there on in its order. */
  readonly asked?: { readonly atMin: number; readonly isExact: boolean }
}

interface Hole extends Span {
  readonly bench: number
  /** The first minute that does not close up any more. */
  readonly untilMin: number
}

function endOf({ fromMin, setChangeMin, workMin }: BenchBlock): number {
  return fromMin + setChangeMin + workMin
}

function inOrder(blocks: readonly BenchBlock[]): readonly BenchBlock[] {
  return blocks.toSorted((a, b) => a.bench - b.bench || a.fromMin - b.fromMin)
}

/** The place that the block leaves, where it is to close up: behind a block that stays nothing moves up. */
function holeOf({ blocks }: BenchesNow, moved: BenchBlock, move: BlockMove): Hole | undefined {
  if (!move.closesUp) return undefined
  const toMin = endOf(moved)
  const staying = blocks
    .filter(({ stays, bench, fromMin }) => stays && bench === moved.bench && fromMin >= toMin)
    .map(({ fromMin }) => fromMin)
  return {
    bench: moved.bench,
    fromMin: moved.fromMin,
    toMin,
    untilMin: Math.min(move.closesUntilMin, ...staying),
  }
}

function waiting(block: BenchBlock, hole: Hole | undefined): Waiting {
  const closes =
    hole !== undefined &&
    hole.bench === block.bench &&
    block.fromMin >= hole.toMin &&
    block.fromMin < hole.untilMin
  return { block, upMin: closes ? hole.toMin - hole.fromMin : 0 }
}

/** The other blocks of the bench with the moved one among them. */
function queueWith(
  others: readonly BenchBlock[],
  moved: BenchBlock,
  { atMin, bench }: BlockMove,
  hole: Hole | undefined,
): readonly Waiting[] | MoveRefused {
  const under = others.find((block) => block.fromMin < atMin && atMin < endOf(block))
  if (under?.stays) return refusedFor('in the way', under)
  const isBehind = under !== undefined && atMin - under.fromMin >= (endOf(under) - under.fromMin) / 2
  const upMin = under ? waiting(under, hole).upMin : 0
  const beginsMin = under ? (isBehind ? endOf(under) : under.fromMin) - upMin : atMin
  const queue = others.map((block) => waiting(block, hole))
  const place = others.filter(({ fromMin }) => fromMin < (under && !isBehind ? under.fromMin : atMin)).length
  return queue.toSpliced(place, 0, {
    block: { ...moved, bench },
    upMin: 0,
    asked: { atMin: beginsMin, isExact: under === undefined },
  })
}

/** Lays the blocks of one bench in the order of the queue; those that stay are where they are. */
function layOut(now: BenchesNow, bench: number, queue: readonly Waiting[]): MoveMade | MoveRefused {
  const before = standingBefore(now, bench)
  const staying = queue.map(({ block }) => block).filter(({ stays }) => stays)
  const blocks: BenchBlock[] = []
  const short: { id: number; neededMin: number }[] = []
  let standing = now.standing(bench)
  let endMin = Number.NEGATIVE_INFINITY
  const lay = (block: BenchBlock) => {
    blocks.push(block)
    standing = block.rig?.last ?? standing
    endMin = endOf(block)
  }
  const pass = (block: BenchBlock) => {
    const neededMin = setChangeOf(now, block, before, standing)
    if (neededMin > block.setChangeMin) short.push({ id: block.id, neededMin })
    lay(block)
  }
  for (const one of queue) {
    if (one.block.stays) continue
    for (;;) {
      const setChangeMin = setChangeOf(now, one.block, before, standing)
      const fromMin = placeOf(now, one, setChangeMin, endMin)
      const placed = { ...one.block, setChangeMin, fromMin: fromMin ?? 0 }
      const [next] = staying
      if (fromMin === undefined || (next && next.fromMin < endOf(placed))) {
        const isPast = next !== undefined && (fromMin === undefined || endOf(next) <= fromMin)
        if (!next || (one.asked?.isExact && !isPast)) return refusalOf({ ...one, block: placed }, next)
        pass(next)
        staying.shift()
      } else {
        lay(placed)
        break
      }
    }
  }
  staying.forEach(pass)
  return { blocks, short }
}

function refusalOf({ block, asked }: Waiting, inTheWay: BenchBlock | undefined): MoveRefused {
  if (inTheWay && asked?.isExact) return refusedFor('in the way', inTheWay)
  return refusedFor(asked?.isExact ? 'closed' : 'no place', block)
}

function refusedFor(why: MoveRefused['why'], { id, setChangeMin, workMin }: BenchBlock): MoveRefused {
  return { why, id, lengthMin: setChangeMin + workMin }
}

/** By block: the rig that stands before it today. */
function standingBefore(now: BenchesNow, bench: number): ReadonlyMap<number, number | null> {
  const before = new Map<number, number | null>()
  let standing = now.standing(bench)
  for (const block of inOrder(now.blocks.filter((one) => one.bench === bench))) {
    before.set(block.id, standing)
    standing = block.rig?.last ?? standing
  }
  return before
}

/** What a person booked for a set change is kept as long as the same rig stands before it. */
function setChangeOf(
  now: BenchesNow,
  { id, rig, setChangeMin }: BenchBlock,
  before: ReadonlyMap<number, number | null>,
  standing: number | null,
): number {
  if (rig === null || before.get(id) === standing) return setChangeMin
  return now.changeoverMin(standing, rig.first)
}

/** The first minute of a block behind `endMin`, or undefined where it cannot lie. */
function placeOf(
  now: BenchesNow,
  { block, upMin, asked }: Waiting,
  setChangeMin: number,
  endMin: number,
): number | undefined {
  const lengthMin = setChangeMin + block.workMin
  if (asked?.isExact) {
    // What lies before it may need a longer set change now that another block has gone.
    const atMin = Math.max(asked.atMin, endMin)
    return firstFit(now, block.bench, atMin, lengthMin) === atMin ? atMin : undefined
  }
  const isAsBefore = setChangeMin === block.setChangeMin && !asked
  // Hours may have changed since it was booked: what nothing pushes stays where it is.
  if (isAsBefore && upMin === 0 && block.fromMin >= endMin) return block.fromMin
  const workMin = block.fromMin + block.setChangeMin
  const wishMin = asked?.atMin ?? (upMin > 0 ? block.fromMin - upMin : workMin - setChangeMin)
  const fromMin = firstFit(now, block.bench, Math.max(wishMin, endMin), lengthMin)
  const isLater = fromMin === undefined || fromMin > block.fromMin
  return isAsBefore && isLater && block.fromMin >= endMin ? block.fromMin : fromMin
}

function firstFit(now: BenchesNow, bench: number, fromMin: number, lengthMin: number): number | undefined {
  for (const open of now.openFrom(bench, fromMin)) {
    const startMin = Math.max(fromMin, open.fromMin)
    if (startMin + lengthMin <= open.toMin) return startMin
  }
  return undefined
}
