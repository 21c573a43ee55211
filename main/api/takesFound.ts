import * as z from 'zod'
import { studioZone } from '../../db/calendar.ts'
import type { Id } from '../../db/ids.ts'
import { inOneTransaction } from '../../db/statement.ts'
import { countTake } from '../../db/takes.ts'
import { spinsOnCards, takeFromFiles } from '../../db/takesOnCards.ts'
import { ticketKey } from '../../db/tickets.ts'
import { dayOf } from '../trade/calendar.ts'
import { type CardFrame, type TakeFound, takesFound } from '../trade/check/files/takesFound.ts'
import { corrected, framesOfFiles } from '../trade/filedTake.ts'
import { baseName } from '../trade/frameFiles.ts'
import type { TakeFrame } from '../trade/pack.ts'
import { Refusal } from '../trade/refusal.ts'
import { readTicket } from '../trade/ticketCode.ts'
import { sortingOf, startSorting, stopSorting } from '../work/cardSorting.ts'
import { frameFolder } from './frameFolders.ts'
import { call, type InStudio, maybeText, router } from './kit.ts'
import { whole } from './takes.ts'

/** What a person has said of the cards that were read. */
const Said = z.object({
  /** The spin that a take shows, by the take's key; 0 where the likely ones are none of it. */
  decided: z.record(z.string().max(2000), z.int().min(0)).default({}),
  /** Of parts in two folders, by the later one's key, the one it goes on with; null where it is a take of its own. */
  joins: z.record(z.string().max(2000), z.string().max(2000).nullable()).default({}),
  /** How far ahead the cameras' clocks stood, in ms; behind below 0. Two days at most. */
  clockAheadMs: z.int().min(-172_800_000).max(172_800_000).default(0),
})

/** Cards that sort themselves by the tickets photographed on them; the person decides, then they become takes. */
export const takesFoundCalls = router({
  /** Reads the frames of one or several folders in the background; `sorting` tells how far it is. */
  start: call
    .input(
      z.object({
        folders: z.array(frameFolder).min(1, 'No folder is named. Name the folder of a card first.').max(100),
      }),
    )
    .mutation(async ({ ctx, input }) => {
      await startSorting(ctx.db, ctx.who.deviceId, input.folders, studioZone(ctx.db))
    }),

  stop: call.mutation(({ ctx }) => {
    stopSorting(ctx.db, ctx.who.deviceId)
  }),

  /** How far the reading is, or the takes that were found and what each may be; null before the first. */
  sorting: call.input(Said).query(({ ctx, input }) => {
    const sorting = sortingOf(ctx.db, ctx.who.deviceId)
    if (sorting?.state !== 'done') return sorting
    const { takes, spins } = foundOn(ctx, sorting.cards, input)
    return {
      state: 'done' as const,
      folders: sorting.folders,
      spins: spins.map(({ shootId, label }) => ({ shootId, label })),
      takes: takes.map((take) => toldTake(ctx, take, takes, spins)),
    }
  }),

  /** Writes found takes down as takes counted from their files: all of those named, or none. */
  keep: call
    .input(
      Said.extend({
        keys: z.array(z.string().max(2000)).min(1, 'No take is chosen. Choose at least one.').max(500),
        overruleReason: maybeText(500),
      }),
    )
    .mutation(({ ctx, input }) => {
      const sorting = sortingOf(ctx.db, ctx.who.deviceId)
      if (sorting?.state !== 'done') throw notRead()
      const { takes, spins } = foundOn(ctx, sorting.cards, input)
      return inOneTransaction(ctx.db, () => {
        for (const key of input.keys) {
          const take = takes.find((one) => one.key === key)
          if (!take) throw notRead()
          keepTake(ctx, take, labelOf(take, spins), input.overruleReason)
        }
        return { takes: input.keys.length }
      })
    }),
})

type Spins = ReturnType<typeof spinsFor>

/** The takes on the cards, with the clocks put right, and the spins that they may show. */
function foundOn(ctx: InStudio, cards: readonly (readonly CardFrame[])[], said: z.output<typeof Said>) {
  const right = cards.map((card) => corrected(card, said.clockAheadMs))
  const spins = spinsFor(ctx, right, Object.values(said.decided))
  const decided = new Map(Object.entries(said.decided))
  const joins = new Map(Object.entries(said.joins))
  return { takes: takesFound(right, spins, ticketKey(ctx.db), { decided, joins }), spins }
}

function spinsFor(ctx: InStudio, cards: readonly (readonly CardFrame[])[], decided: readonly number[]) {
  const zone = studioZone(ctx.db)
  const frames = cards.flat()
  const days = [...new Set(frames.map(({ atMs }) => dayOf(new Date(atMs).toISOString(), zone)))].sort()
  const ticketed = frames.flatMap(({ ticket }) => ticketedSpin(ticket, ticketKey(ctx.db)))
  return spinsOnCards(ctx.db, days.slice(-mostDays), [...ticketed, ...decided], ctx.now).map((spin) => ({
    ...spin,
    label: `${spin.code === null ? '' : `${spin.code} `}${spin.name}, ${spin.jobNumber}`,
  }))
}

/** A card that was never emptied holds months; its last days are what it is read for. */
const mostDays = 14

/** The spin of a ticket of this studio; none of any other code. */
function ticketedSpin(ticket: string | null, studioKey: string): readonly number[] {
  if (ticket === null) return []
  try {
    return [readTicket(ticket, studioKey).shootId]
  } catch (error) {
    if (error instanceof Refusal) return []
    throw error
  }
}

function toldTake(ctx: InStudio, take: TakeFound, takes: readonly TakeFound[], spins: Spins) {
  const { frames, spin, ticketFiles } = take
  const known = spins.find(({ shootId }) => shootId === spin?.shootId)
  return {
    key: take.key,
    folders: take.folders,
    joined: take.joined,
    goesOn: goesOnOf(ctx, take, takes),
    frames: frames.length,
    firstFile: baseName(frames[0]?.file ?? ticketFiles[0] ?? ''),
    lastFile: baseName(frames.at(-1)?.file ?? ticketFiles.at(-1) ?? ''),
    startMs: take.startMs,
    endMs: take.endMs,
    medianStepMs: take.medianStepMs,
    gapsAfter: take.gapsAfter,
    standing: take.standing,
    sentence: withoutLabel(take.sentence, known?.label),
    candidates: take.candidates,
    turnFrames: (spin && known?.rows[spin.row]?.turnFrames) ?? null,
    spin: spin && known ? { ...spin, label: known.label, rows: known.rows.length } : null,
    kept: keptOf(ctx, take) ?? null,
  }
}

/** What is written down already is not offered to be joined any more. */
function goesOnOf(ctx: InStudio, take: TakeFound, takes: readonly TakeFound[]): TakeFound['goesOn'] {
  const earlier = takes.find(({ key }) => key === take.goesOn?.key)
  return !earlier || keptOf(ctx, take) || keptOf(ctx, earlier) ? null : take.goesOn
}

function keptOf(ctx: InStudio, { folder, startMs }: TakeFound) {
  return startMs === null ? undefined : takeFromFiles(ctx.db, folder, isoOf(startMs))
}

/** What stands beside the spin's own name need not say it again. */
function withoutLabel(sentence: string, label: string | undefined): string {
  if (label === undefined || !sentence.startsWith(label)) return sentence
  const rest = sentence.slice(sentence.indexOf(': ', label.length) + 2)
  return `${rest.charAt(0).toUpperCase()}${rest.slice(1)}`
}

function labelOf({ spin }: TakeFound, spins: Spins): string {
  return spins.find(({ shootId }) => shootId === spin?.shootId)?.label ?? ''
}

/** Writes one found take down. Refuses one whose spin nobody has said, and one that is written down already. */
function keepTake(ctx: InStudio, take: TakeFound, label: string, overruleReason: string | null): void {
  const { spin, frames, folders } = take
  const startMs = frames[0]?.atMs
  const endMs = frames.at(-1)?.atMs
  if (!spin || startMs === undefined || endMs === undefined) {
    throw new Refusal(
      'spin-not-said',
      `Nobody has said which spin the frames from ${baseName(frames[0]?.file ?? take.key)} show. Choose it, or leave them out.`,
    )
  }
  const before = keptOf(ctx, take)
  if (before) {
    throw new Refusal(
      'take-kept',
      `${label}: these frames are written down already, as take ${before.number}. Leave them out.`,
    )
  }
  const asked = { shootId: spin.shootId as Id<'shoot'>, row: spin.row + 1, overruleReason }
  try {
    countTake(ctx, {
      ...whole(ctx.db, asked),
      framesShot: frames.length,
      startedAt: isoOf(startMs),
      endedAt: isoOf(endMs),
      read: { folders, frames: framesInFolders(frames, folders) },
    })
  } catch (error) {
    if (!(error instanceof Refusal)) throw error
    throw new Refusal(error.code, `${label}: ${error.message}`, { canOverrule: error.canOverrule })
  }
}

/** The frames of a take, each with its folder's place where it is not the first. */
function framesInFolders(frames: readonly CardFrame[], folders: readonly string[]): TakeFrame[] {
  return framesOfFiles(frames, false).map((frame, at) => {
    const folder = folders.indexOf(frames[at]?.folder ?? '')
    return folder > 0 ? { ...frame, folder } : frame
  })
}

function isoOf(ms: number): string {
  return new Date(ms).toISOString()
}

function notRead(): Refusal {
  return new Refusal('cards-not-read', 'These cards are not read any more. Read them again.')
}
