import { countWords } from '../../countWords.ts'
import { comesNext } from '../../frameFiles.ts'
import { type ExpectedSpin, isWhole } from './expectedSpin.ts'
import type { Part, TakeFound } from './takesFound.ts'

/** What a person said of parts in two folders: by the later one's key that of the earlier, or null to keep it apart. */
export type Joins = ReadonlyMap<string, string | null>

/** A take that seems to be the rest of one in another folder: a full card, or a camera's next folder after 9999. */
export interface PartOffer {
  /** The key of the take it would be joined to. */
  readonly key: string
  readonly why: string
}

/** The same in every sorting of the same cards. */
export function keyOf({
  folder,
  frames,
  ticketFiles,
}: Pick<Part, 'folder' | 'frames' | 'ticketFiles'>): string {
  return `${folder}/${frames[0]?.key ?? ticketFiles[0] ?? ''}`
}

/** A card is changed, or the camera begins a folder, within so long; longer where the numbers go on. P. */
const changeMs = 15 * 60_000

/**
 * Where a take without a ticket is the first of its folder and seems to go on with one that is the last of another:
 * it began after that ended, its numbers or the time go on, and only together are they what a spin wants.
 */
export function offerFor(
  take: TakeFound,
  takes: readonly TakeFound[],
  spins: readonly ExpectedSpin[],
): PartOffer | null {
  const isFirst = takes.find(({ folders }) => folders.includes(take.folder))?.key === take.key
  if (!isFirst || take.ticketFiles.length > 0 || take.standing === 'whole') return null
  const offers = takes.flatMap((other) => {
    const isLast = takes.findLast(({ folders }) => folders.includes(other.folders.at(-1) ?? '')) === other
    if (!isLast || other.folders.includes(take.folder) || !areOneTake(other, take, spins)) return []
    const waitMs = (take.startMs ?? 0) - (other.endMs ?? 0)
    const isNumbered = numbersGoOn(other, take)
    // The spin that its ticket names is owed the rest, however long the card took to change.
    if (waitMs < 0 || !(isNumbered || waitMs <= changeMs || other.spin)) return []
    return [{ other, waitMs, isNumbered }]
  })
  const [best] = offers.sort((a, b) => Number(b.isNumbered) - Number(a.isNumbered) || a.waitMs - b.waitMs)
  if (!best) return null
  const goesOn = best.isNumbered ? 'Its numbers go on' : 'It goes on'
  return {
    key: best.other.key,
    why: `${goesOn} where another folder ends after ${countWords(best.other.frames.length, 'frame')}: together they are whole.`,
  }
}

/** Joins the parts that a person said belong together, each to the end of the earlier; what cannot be is left apart. */
export function joinedParts(parts: readonly Part[], joins: Joins): Part[] {
  const joined: Part[] = []
  for (const part of parts) {
    const to = joins.get(keyOf(part)) ?? null
    const at = to === null ? -1 : joined.findIndex((one) => keyOf(one) === to || one.joined.includes(to))
    const earlier = joined[at]
    if (!earlier || part.ticketFiles.length > 0 || !isLater(earlier, part)) joined.push(part)
    else {
      joined[at] = {
        ...earlier,
        frames: [...earlier.frames, ...part.frames],
        joined: [...earlier.joined, keyOf(part)],
      }
    }
  }
  return joined
}

function isLater({ frames: [...earlier] }: Part, { frames: [first] }: Part): boolean {
  const last = earlier.at(-1)
  return last !== undefined && first !== undefined && first.atMs >= last.atMs
}

function areOneTake(earlier: TakeFound, later: TakeFound, spins: readonly ExpectedSpin[]): boolean {
  const { spin } = earlier
  if (later.spin && later.spin.shootId !== spin?.shootId) return false
  const together = earlier.frames.length + later.frames.length
  if (spin) {
    const row = spins.find(({ shootId }) => shootId === spin.shootId)?.rows[spin.row]
    return earlier.standing === 'short' && row !== undefined && isWhole(together, row)
  }
  const rows = spins.flatMap((one) => one.rows)
  const isWanted = (frames: number) => rows.some((row) => isWhole(frames, row))
  return (
    earlier.standing === 'not named' &&
    earlier.ticketFiles.length === 0 &&
    isWanted(together) &&
    !isWanted(earlier.frames.length) &&
    !isWanted(later.frames.length)
  )
}

function numbersGoOn({ frames }: TakeFound, { frames: [first] }: TakeFound): boolean {
  const last = frames.at(-1)
  return last !== undefined && first !== undefined && comesNext(last, first)
}
