import { countWords } from '../../countWords.ts'
import { formatDecimal } from '../../decimal.ts'
import type { TimedFrame } from '../../filedTake.ts'
import { baseName } from '../../frameFiles.ts'
import { longestStepMs } from '../../pause.ts'
import { median } from '../../quantile.ts'
import { Refusal } from '../../refusal.ts'
import { readTicket } from '../../ticketCode.ts'
import { type Joins, joinedParts, keyOf, offerFor, type PartOffer } from './cardParts.ts'
import { type ExpectedRow, type ExpectedSpin, isWhole, mostFrames } from './expectedSpin.ts'
import { candidatesFor, type SpinCandidate } from './takeCandidates.ts'

/** A frame on a card, with what was read in its picture. */
export interface CardFrame extends TimedFrame {
  readonly folder: string
  /** The text of a square code in it; null where there is none, or nobody looked. */
  readonly ticket: string | null
}

/** How a take stands against what its spin wants. */
export type FoundStanding = 'whole' | 'short' | 'too long' | 'started over' | 'nothing shot' | 'not named'

/** A take as it lies on a card: one attempt at one row. */
export interface TakeFound {
  /** The same in every sorting of the same cards: by it the person's decision is kept. */
  readonly key: string
  /** The folder of its first frame. */
  readonly folder: string
  /** The folders it lies in, in the order it went on. */
  readonly folders: readonly string[]
  /** The keys of the parts that a person joined to it. */
  readonly joined: readonly string[]
  /** Its frames in the order they were shot, without its ticket's. */
  readonly frames: readonly CardFrame[]
  /** The files that show its ticket. */
  readonly ticketFiles: readonly string[]
  readonly startMs: number | null
  readonly endMs: number | null
  readonly medianStepMs: number | null
  /** Frames after which nobody turned for long, counted from 1: where it could be parted. */
  readonly gapsAfter: readonly number[]
  readonly spin: { readonly shootId: number; readonly row: number; readonly by: 'ticket' | 'person' } | null
  readonly standing: FoundStanding
  /** Where no ticket names it: the spins it may be, the likeliest first. The person decides. */
  readonly candidates: readonly SpinCandidate[]
  /** Where it seems to be the rest of a take in another folder. The person decides. */
  readonly goesOn: (PartOffer & { readonly isKeptApart: boolean }) | null
  readonly sentence: string
}

/** What a person has said of takes on cards. */
export interface CardsSaid {
  /** The spin that a take shows, by the take's key; 0 for none of them. */
  readonly decided?: ReadonlyMap<string, number>
  readonly joins?: Joins
}

interface Section {
  readonly folder: string
  readonly ticket: string | null
  readonly ticketFiles: readonly string[]
  readonly frames: readonly CardFrame[]
}

/** A take in the making: a section of a card, or several that a person joined. */
export interface Part extends Section {
  readonly joined: readonly string[]
  readonly shootId: number | null
  readonly by: 'ticket' | 'person'
  /** Why its ticket does not count. */
  readonly refused: string | null
}

/**
 * The takes on cards: parted where a ticket is shown, after the count that a ticket's spin wants, and at gaps in time.
 * A ticket shown again after a short take means that it was started over.
 * @param cards    the frames of each folder in the order they were shot
 * @param spins    those that the day expects and those that tickets name
 */
export function takesFound(
  cards: readonly (readonly CardFrame[])[],
  spins: readonly ExpectedSpin[],
  studioKey: string,
  { decided = new Map(), joins = new Map() }: CardsSaid = {},
): TakeFound[] {
  const known = new Map(spins.map((spin) => [spin.shootId, spin]))
  const inTime = [...cards].filter((card) => card.length > 0).sort((a, b) => middleMs(a) - middleMs(b))
  const parts = inTime.flatMap((card) =>
    sectionsOf(card).flatMap((section) => partsOf(section, spins, known, studioKey)),
  )
  const joined = joinedParts(parts, joins)
  const named = joined.map((part) => decidedPart(part, decided))
  return withOffers(judged(named, known), spins, { decided, joins })
}

/** A card lies where its middle frame does: a single file may bear any time. */
function middleMs(card: readonly CardFrame[]): number {
  return card[card.length >> 1]?.atMs ?? 0
}

/**
 * What a take without a ticket may be: the rest of another, or one of some spins. The likeliest spin of one is taken as
 * given for those after it.
 */
function withOffers(
  takes: readonly TakeFound[],
  spins: readonly ExpectedSpin[],
  { decided, joins }: Required<CardsSaid>,
): TakeFound[] {
  const presumed = [...takes]
  return takes.map((take, index) => {
    const offer = offerFor(take, presumed, spins)
    const goesOn = offer && { ...offer, isKeptApart: joins.has(take.key) }
    const isOffered = goesOn !== null && !goesOn.isKeptApart
    if (isOffered || take.standing !== 'not named' || decided.has(take.key)) return { ...take, goesOn }
    const candidates = candidatesFor(take, presumed, spins)
    const [likeliest] = candidates
    if (likeliest?.fits) {
      const spin = { shootId: likeliest.shootId, row: 0, by: 'person' as const }
      presumed[index] = { ...take, spin, standing: 'whole' }
    }
    return { ...take, candidates, goesOn }
  })
}

/** From each ticket to the next; a ticket shot twice running is one. */
function sectionsOf(card: readonly CardFrame[]): Section[] {
  const sections: { folder: string; ticket: string | null; ticketFiles: string[]; frames: CardFrame[] }[] = []
  for (const frame of card) {
    const { folder } = frame
    const last = sections.at(-1)
    if (frame.ticket === null) {
      if (last) last.frames.push(frame)
      else sections.push({ folder, ticket: null, ticketFiles: [], frames: [frame] })
    } else if (last?.ticket === frame.ticket && last.frames.length === 0) last.ticketFiles.push(frame.file)
    else sections.push({ folder, ticket: frame.ticket, ticketFiles: [frame.file], frames: [] })
  }
  return sections
}

function partsOf(
  section: Section,
  spins: readonly ExpectedSpin[],
  known: ReadonlyMap<number, ExpectedSpin>,
  studioKey: string,
): Part[] {
  const { shootId, refused } = section.ticket === null ? unnamed : named(section.ticket, studioKey)
  const spin = shootId === null ? undefined : known.get(shootId)
  const runs = runsOf(section.frames)
  const first = { ...section, joined: [], shootId, refused, by: 'ticket' as const }
  if (runs.length === 0) return [first]
  const { rows, rest } = spin ? rowsOf(runs, spin) : { rows: [], rest: runs }
  const alone = joinedRuns(rest, spins)
  // Whoever showed a ticket turned what comes first after it, also where nothing is known of its spin.
  const mine = spin ? rows : alone.slice(0, section.ticket === null ? 0 : 1)
  const others = spin ? alone : alone.slice(mine.length)
  return [
    ...mine.map((frames, index) => ({
      ...first,
      frames,
      ticketFiles: index === 0 ? section.ticketFiles : [],
    })),
    ...others.map((frames) => ({
      ...unnamed,
      folder: section.folder,
      ticket: null,
      ticketFiles: [],
      joined: [],
      frames,
      by: 'ticket' as const,
    })),
  ]
}

const unnamed = { shootId: null, refused: null }

function named(ticket: string, studioKey: string): Pick<Part, 'shootId' | 'refused'> {
  try {
    return { shootId: readTicket(ticket, studioKey).shootId, refused: null }
  } catch (error) {
    if (!(error instanceof Refusal)) throw error
    return { shootId: null, refused: error.message }
  }
}

/** Frames between long gaps. */
function runsOf(frames: readonly CardFrame[]): CardFrame[][] {
  const runs: CardFrame[][] = []
  const longest = longestStepMs(medianStepMs(frames) ?? 0)
  for (const [index, frame] of frames.entries()) {
    const before = frames[index - 1]
    const last = runs.at(-1)
    if (last && before && Math.abs(frame.atMs - before.atMs) <= longest) last.push(frame)
    else runs.push([frame])
  }
  return runs
}

function medianStepMs(frames: readonly CardFrame[]): number | null {
  const steps = frames.slice(1).map(({ atMs }, index) => atMs - (frames[index]?.atMs ?? 0))
  const turning = steps.filter((step) => step > 0)
  return turning.length === 0 ? null : Math.round(median(turning))
}

/** The runs after a ticket as the rows of its spin, a pause inside a row bridged; what comes after the last row is left. */
function rowsOf(runs: readonly CardFrame[][], spin: ExpectedSpin) {
  const rows: CardFrame[][] = []
  let open: CardFrame[] = []
  let whole = 0
  for (const [index, run] of runs.entries()) {
    const wanted = spin.rows[whole]
    if (!wanted) return { rows, rest: runs.slice(index) }
    const isAnew =
      open.length > 0 && open.length + run.length > mostFrames(wanted) && run.length >= wanted.turnFrames
    if (isAnew) rows.push(open)
    open = isAnew ? run : [...open, ...run]
    if (open.length < wanted.turnFrames) continue
    rows.push(open)
    open = []
    whole += 1
  }
  return { rows: open.length > 0 ? [...rows, open] : rows, rest: [] }
}

/** Runs that no ticket names: one take each, but for parts that only together are what some spin wants. */
function joinedRuns(runs: readonly CardFrame[][], spins: readonly ExpectedSpin[]): CardFrame[][] {
  const isWanted = (frames: number) => spins.some(({ rows }) => rows.some((row) => isWhole(frames, row)))
  const joined: CardFrame[][] = []
  for (let index = 0; index < runs.length; ) {
    let take = runs[index] ?? []
    let parts = 1
    for (let more = 1; more <= 3 && !isWanted(take.length); more += 1) {
      const together = runs.slice(index, index + more + 1)
      if (together.length <= more || isWanted(together[more]?.length ?? 0)) break
      if (isWanted(together.flat().length)) {
        take = together.flat()
        parts = more + 1
      }
    }
    joined.push(take)
    index += parts
  }
  return joined
}

function decidedPart(part: Part, decided: ReadonlyMap<string, number>): Part {
  const choice = decided.get(keyOf(part))
  if (choice === undefined) return part
  return { ...part, shootId: choice === 0 ? null : choice, by: 'person', refused: null }
}

/** Each part against its spin: its row is the first that no whole take before it has. */
function judged(parts: readonly Part[], known: ReadonlyMap<number, ExpectedSpin>): TakeFound[] {
  const wholeRows = new Map<number, number>()
  return parts.map((part, index) => {
    const { frames, shootId } = part
    const spin = shootId === null ? undefined : known.get(shootId)
    const row = spin ? (wholeRows.get(spin.shootId) ?? 0) % spin.rows.length : 0
    const next = parts[index + 1]
    const isShownAgain = next?.shootId === shootId && next?.folder === part.folder
    const standing = standingOf(frames.length, spin?.rows[row], isShownAgain)
    if (spin && (standing === 'whole' || standing === 'too long'))
      wholeRows.set(spin.shootId, (wholeRows.get(spin.shootId) ?? 0) + 1)
    return {
      key: keyOf(part),
      folder: part.folder,
      folders: [...new Set([part.folder, ...frames.map(({ folder }) => folder)])],
      joined: part.joined,
      frames,
      ticketFiles: part.ticketFiles,
      startMs: frames[0]?.atMs ?? null,
      endMs: frames.at(-1)?.atMs ?? null,
      medianStepMs: medianStepMs(frames),
      gapsAfter: gapsAfter(frames),
      spin: spin ? { shootId: spin.shootId, row, by: part.by } : null,
      standing,
      candidates: [],
      goesOn: null,
      sentence: sentenceOf(part, standing, spin, row),
    }
  })
}

function standingOf(frames: number, row: ExpectedRow | undefined, isShownAgain: boolean): FoundStanding {
  if (frames === 0) return 'nothing shot'
  if (!row) return 'not named'
  if (isWhole(frames, row)) return 'whole'
  if (frames > row.toShoot) return 'too long'
  return isShownAgain ? 'started over' : 'short'
}

function gapsAfter(frames: readonly CardFrame[]): number[] {
  const longest = longestStepMs(medianStepMs(frames) ?? 0)
  return frames.flatMap(({ atMs }, index) => {
    const next = frames[index + 1]
    return next && Math.abs(next.atMs - atMs) > longest ? [index + 1] : []
  })
}

function sentenceOf(
  part: Part,
  standing: FoundStanding,
  spin: ExpectedSpin | undefined,
  row: number,
): string {
  const { frames, ticketFiles, refused } = part
  const count = countWords(frames.length, 'frame')
  if (!spin) {
    const ticket = baseName(ticketFiles[0] ?? '')
    if (refused !== null) return `${count} after a ticket that does not count (${ticket}). ${refused}`
    if (part.shootId !== null)
      return `${count} after the ticket of a spin that this studio does not hold (${ticket}).`
    return `${count} that no ticket names. Say which spin they are.`
  }
  const wanted = spin.rows[row]
  const ofTurn = `${formatDecimal(frames.length, 0)} of ${countWords(wanted?.turnFrames ?? 0, 'frame')}`
  const name = spin.rows.length > 1 ? `${spin.label}, row\u00a0${row + 1}` : spin.label
  switch (standing) {
    case 'nothing shot':
      return `${name}: its ticket was shown and nothing shot after it.`
    case 'short':
      return `${name}: short at ${ofTurn}.`
    case 'started over':
      return `${name}: left at ${ofTurn} and started over.`
    case 'too long':
      return `${name}: ${count}, ${frames.length - (wanted?.toShoot ?? 0)} more than wanted. Part it where the next one begins.`
    default:
      return `${name}: whole, ${count}.`
  }
}
