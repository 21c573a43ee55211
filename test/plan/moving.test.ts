import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type BenchBlock, type BenchesNow, type BlockMove, moveBlock } from '../../main/trade/plan/moving.ts'
import type { Span } from '../../main/trade/plan/problem.ts'

const dayMin = 1440

/** Mornings 540 to 750, afternoons 795 to 1050, on every day of two weeks but the seventh. */
const open: readonly Span[] = Array.from({ length: 14 }, (_, day) => day)
  .filter((day) => day % 7 !== 6)
  .flatMap((day) => [
    { fromMin: day * dayMin + 540, toMin: day * dayMin + 750 },
    { fromMin: day * dayMin + 795, toMin: day * dayMin + 1050 },
  ])

/** Set changes of invented length, not the same both ways, nothing between a rig and itself. */
const changeoverMin = (from: number | null, to: number) =>
  from === to ? 0 : 5 + (((from ?? 3) * 7 + to * 5) % 4) * 5

function benches(blocks: readonly BenchBlock[]): BenchesNow {
  return {
    blocks,
    openFrom: (_, min) => open.filter(({ toMin }) => toMin > min),
    standing: () => null,
    changeoverMin,
  }
}

const endOf = ({ fromMin, setChangeMin, workMin }: BenchBlock) => fromMin + setChangeMin + workMin

/** Lays blocks one behind the other with the set changes they need, as booking would. */
function laid(
  wanted: readonly {
    readonly gap: number
    readonly work: number
    readonly rig: number
    readonly stays: boolean
  }[],
  bench: number,
): readonly BenchBlock[] {
  const blocks: BenchBlock[] = []
  let standing: number | null = null
  let at = 0
  for (const { gap, work, rig, stays } of wanted) {
    const setChangeMin = changeoverMin(standing, rig)
    const window = open.find(
      ({ fromMin, toMin }) => Math.max(at + gap, fromMin) + setChangeMin + work <= toMin,
    )
    if (!window) break
    const fromMin = Math.max(at + gap, window.fromMin)
    const id = bench * 100 + blocks.length + 1
    blocks.push({ id, bench, fromMin, setChangeMin, workMin: work, rig: { first: rig, last: rig }, stays })
    at = fromMin + setChangeMin + work
    standing = rig
  }
  return blocks
}

const wanted = fc.array(
  fc.record({
    gap: fc.integer({ min: 0, max: 90 }),
    work: fc.integer({ min: 5, max: 150 }),
    rig: fc.integer({ min: 0, max: 3 }),
    stays: fc.constantFrom(false, false, false, true),
  }),
  { minLength: 1, maxLength: 9 },
)

const scene = fc
  .record({
    one: wanted,
    two: wanted,
    pick: fc.nat(),
    bench: fc.constantFrom(1, 2),
    atMin: fc.integer({ min: 0, max: 8 * dayMin }),
    closesUp: fc.boolean(),
  })
  .map(({ one, two, pick, ...to }) => {
    const blocks = [...laid(one, 1), ...laid(two, 2)]
    const moved = blocks[pick % blocks.length] as BenchBlock
    const closesUntilMin = (Math.floor(moved.fromMin / dayMin) + 1) * dayMin
    return { blocks, moved, move: { id: moved.id, closesUntilMin, ...to } satisfies BlockMove }
  })

/** The minute of the day from which a plain bench of these tests is open. */
const nine = 540
const aBlock = (id: number, fromMin: number, workMin: number, of: Partial<BenchBlock> = {}): BenchBlock => ({
  id,
  bench: 1,
  fromMin,
  setChangeMin: 0,
  workMin,
  rig: null,
  stays: false,
  ...of,
})
const to = (id: number, atMin: number, of: Partial<BlockMove> = {}): BlockMove => ({
  id,
  bench: 1,
  atMin,
  closesUp: false,
  closesUntilMin: dayMin,
  ...of,
})
const starts = (result: ReturnType<typeof moveBlock>) =>
  'why' in result ? result.why : result.blocks.map(({ id, fromMin }) => [id, fromMin])

describe('moving a block', () => {
  it('lets no two blocks overlap, moves none that stays, and lays nothing over closed time', () => {
    fc.assert(
      fc.property(scene, ({ blocks, move }) => {
        const result = moveBlock(benches(blocks), move)
        if ('why' in result) return
        expect(result.blocks).toHaveLength(blocks.length)
        for (const [index, block] of result.blocks.entries()) {
          const next = result.blocks[index + 1]
          if (next?.bench === block.bench) expect(endOf(block)).toBeLessThanOrEqual(next.fromMin)
          expect(open.some(({ fromMin, toMin }) => fromMin <= block.fromMin && endOf(block) <= toMin)).toBe(
            true,
          )
          const before = blocks.find(({ id }) => id === block.id)
          if (before?.stays) expect(block).toEqual(before)
          expect(block.workMin).toBe(before?.workMin)
        }
      }),
      { numRuns: 3000 },
    )
  })

  it('lays a block exactly where it is let go in free time, unless a longer set change before it pushes it on', () => {
    fc.assert(
      fc.property(scene, ({ blocks, moved, move }) => {
        const isFree = !blocks.some(
          (block) =>
            block.id !== moved.id &&
            block.bench === move.bench &&
            block.fromMin < move.atMin &&
            move.atMin < endOf(block),
        )
        const result = moveBlock(benches(blocks), move)
        if ('why' in result || !isFree) return
        const there = result.blocks.findIndex(({ id }) => id === moved.id)
        const [before, block] = [result.blocks[there - 1], result.blocks[there]]
        const endMin = before?.bench === move.bench ? endOf(before) : 0
        expect(block?.fromMin).toBe(Math.max(move.atMin, endMin))
      }),
      { numRuns: 3000 },
    )
  })

  it('works every set change of the benches out anew for what stands before it', () => {
    fc.assert(
      fc.property(scene, ({ blocks, move }) => {
        const result = moveBlock(benches(blocks), move)
        if ('why' in result) return
        for (const [index, block] of result.blocks.entries()) {
          const before = result.blocks[index - 1]
          const standing = before?.bench === block.bench ? (before.rig?.last ?? null) : null
          const needed = changeoverMin(standing, block.rig?.first ?? 0)
          const isShort = result.short.some(({ id, neededMin }) => id === block.id && neededMin === needed)
          if (block.stays) expect(block.setChangeMin >= needed || isShort).toBe(true)
          else expect(block.setChangeMin).toBe(needed)
        }
      }),
      { numRuns: 3000 },
    )
  })

  it('gives the same places again where it is moved to free time, in nobody’s way, and back', () => {
    fc.assert(
      fc.property(scene, ({ blocks, moved, move }) => {
        const there = moveBlock(benches(blocks), { ...move, closesUp: false })
        if ('why' in there) return
        const others = (all: readonly BenchBlock[]) => all.filter(({ id }) => id !== moved.id)
        const before = [...blocks].sort((a, b) => a.bench - b.bench || a.fromMin - b.fromMin)
        fc.pre(JSON.stringify(others(there.blocks)) === JSON.stringify(others(before)))
        const back = moveBlock(benches(there.blocks), {
          ...move,
          bench: moved.bench,
          atMin: moved.fromMin,
          closesUp: false,
        })
        expect(back).toEqual({ blocks: before, short: [] })
      }),
      { numRuns: 1500 },
    )
  })

  it('changes nothing where a block is let go where it lies', () => {
    fc.assert(
      fc.property(scene, ({ blocks, moved, move }) => {
        fc.pre(!moved.stays)
        const result = moveBlock(benches(blocks), {
          ...move,
          bench: moved.bench,
          atMin: moved.fromMin,
          closesUp: false,
        })
        const before = [...blocks].sort((a, b) => a.bench - b.bench || a.fromMin - b.fromMin)
        expect(result).toEqual({ blocks: before, short: [] })
      }),
    )
  })

  // What follows is counted by hand.
  it('takes the place before a block over its first half, behind it over its second', () => {
    const now = benches([aBlock(1, nine, 60), aBlock(2, nine + 60, 60), aBlock(3, nine + 300, 60)])
    expect(starts(moveBlock(now, to(3, nine + 20)))).toEqual([
      [3, nine],
      [1, nine + 60],
      [2, nine + 120],
    ])
    expect(starts(moveBlock(now, to(3, nine + 40)))).toEqual([
      [1, nine],
      [3, nine + 60],
      [2, nine + 120],
    ])
  })

  it('moves what is in its way along just as far as it must, over the break', () => {
    const now = benches([aBlock(1, nine + 300, 30), aBlock(2, nine, 120), aBlock(3, nine + 150, 60)])
    // 10:30 to 11:00 leaves 11:30 to 12:30 as it is; 11:00 to 11:30 too; from 11:15 on it must give way, over noon.
    expect(starts(moveBlock(now, to(1, nine + 120)))).toEqual([
      [2, nine],
      [1, nine + 120],
      [3, nine + 150],
    ])
    expect(starts(moveBlock(now, to(1, nine + 135)))).toEqual([
      [2, nine],
      [1, nine + 135],
      [3, 795],
    ])
  })

  it('moves blocks along past one that stays, which itself never moves', () => {
    const now = benches([
      aBlock(1, nine, 30),
      aBlock(2, nine + 60, 60),
      aBlock(3, nine + 120, 60, { stays: true }),
    ])
    expect(starts(moveBlock(now, to(1, nine + 60)))).toEqual([
      [1, nine + 60],
      [3, nine + 120],
      [2, 795],
    ])
    expect(starts(moveBlock(now, to(1, nine + 100)))).toEqual([
      [2, nine + 60],
      [3, nine + 120],
      [1, 720],
    ])
    expect(starts(moveBlock(now, to(1, nine + 150)))).toBe('in the way')
    expect(starts(moveBlock(now, to(3, nine)))).toBe('stays')
  })

  it('closes the place it left up only where it is asked, that day, and up to what stays', () => {
    const now = benches([
      aBlock(1, nine, 60),
      aBlock(2, nine + 60, 30),
      aBlock(3, nine + 100, 30),
      aBlock(4, nine + 140, 30, { stays: true }),
      aBlock(5, nine + 180, 20),
    ])
    const away = to(1, nine + dayMin)
    expect(starts(moveBlock(now, away))).toEqual([
      [2, nine + 60],
      [3, nine + 100],
      [4, nine + 140],
      [5, nine + 180],
      [1, nine + dayMin],
    ])
    expect(starts(moveBlock(now, { ...away, closesUp: true }))).toEqual([
      [2, nine],
      [3, nine + 40],
      [4, nine + 140],
      [5, nine + 180],
      [1, nine + dayMin],
    ])
  })

  it('refuses closed time, and a block that is longer than every stretch of opening hours', () => {
    const now = benches([aBlock(1, nine, 60), aBlock(2, nine + 480, 300)])
    // 12:40 is in the break; from 12:00 the hour would reach into it. An afternoon is 255 min long.
    expect(starts(moveBlock(now, to(1, 760)))).toBe('closed')
    expect(starts(moveBlock(now, to(1, 720)))).toBe('closed')
    expect(starts(moveBlock(now, to(1, nine + 440)))).toBe('no place')
  })

  it('keeps a set change that a person booked as long as the same rig stands before it', () => {
    const rig = { first: 1, last: 1 }
    const now = benches([
      aBlock(1, nine, 30, { rig: { first: 0, last: 0 } }),
      aBlock(2, nine + 60, 30, { rig, setChangeMin: 50 }),
    ])
    const result = moveBlock(now, to(2, nine + 90))
    expect('why' in result ? [] : result.blocks[1]?.setChangeMin).toBe(50)
  })
})
