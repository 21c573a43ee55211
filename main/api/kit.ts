import { initTRPC, TRPCError } from '@trpc/server'
import * as z from 'zod'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { Refusal } from '../trade/refusal.ts'
import type { StudioHouse } from './house.ts'
import { refusalOfZod } from './refusalOfZod.ts'

/** Who sends a call: the person working at a device. The event log points at both. */
export interface Who {
  readonly personId: Id<'person'>
  readonly deviceId: Id<'device'>
}

/** What every call is handed. `house` holds the open studio, or none before the first start. */
export interface Asked {
  readonly house: StudioHouse
  readonly who: Who | undefined
}

/** What a call inside an open studio is handed. */
export interface InStudio {
  readonly db: Db
  readonly folder: string
  readonly who: Who
  /** The instant of this call as UTC ISO 8601 text; the same for everything one call writes. */
  readonly now: string
}

/** What of a failure reaches the page: the refusal as data, or nothing but 'something broke'. */
export interface RefusalData {
  readonly code: string
  readonly sentence: string
  readonly field: string | undefined
  readonly canOverrule: boolean
}

const t = initTRPC.context<Asked>().create({
  errorFormatter({ shape, error }) {
    const { cause } = error
    const refusal: RefusalData | null =
      cause instanceof Refusal
        ? { code: cause.code, sentence: cause.message, field: cause.field, canOverrule: cause.canOverrule }
        : error.code === 'BAD_REQUEST' && cause instanceof z.ZodError
          ? refusalOfZod(cause)
          : null
    return {
      ...shape,
      message: refusal?.sentence ?? 'Something broke. Nothing was saved.',
      data: { refusal },
    }
  },
})

export const router = t.router
export const callerOf = t.createCallerFactory

/** A Refusal thrown anywhere below becomes a tRPC error that carries it; a bug stays a bug. */
const refusing = t.middleware(async ({ next }) => {
  const result = await next()
  if (!result.ok && result.error.cause instanceof Refusal) {
    throw new TRPCError({ code: 'UNPROCESSABLE_CONTENT', cause: result.error.cause })
  }
  return result
})

/** A call that works before any studio is open. */
export const anteroomCall = t.procedure.use(refusing)

/**
 * A call inside the open studio: the one gate through which every subject's calls come. After a mutation
 * the windows are told that something changed.
 */
export const call = anteroomCall.use(async ({ ctx, next, type, path }) => {
  const studio = ctx.house.studio
  if (!studio) {
    throw new Refusal('no-studio', 'No studio is open yet. Make a new studio or open the demo studio first.')
  }
  const who = ctx.who ?? studio.owner
  const inStudio: InStudio = { db: studio.db, folder: studio.folder, who, now: studio.now().toISOString() }
  const result = await next({ ctx: inStudio })
  if (type === 'mutation' && result.ok) ctx.house.changed(path)
  return result
})

/**
 * An id as a page sends it: a positive whole number, branded with its table once it is through the gate.
 * @param missing  said where none is chosen
 */
export function idOf<T extends string>(_table: T, missing = 'Nothing is chosen here. Choose it.') {
  return z
    .int(missing)
    .positive(missing)
    .transform((value) => value as Id<T>)
}

/** A day as `YYYY-MM-DD` that the calendar has. */
export const day = z.iso.date('This day is missing, or not in the calendar. Enter it.')

/** Text a person types: trimmed, not empty, with a length that fits the papers. */
export function text(what: string, longest = 200) {
  return z
    .string()
    .trim()
    .min(1, `${what} is empty. Type it in.`)
    .max(longest, `${what} is longer than ${longest} characters. Shorten it.`)
}

/** Text that may be left empty; empty is kept as null. */
export function maybeText(longest = 2000) {
  return z
    .string()
    .trim()
    .max(longest, `This text is longer than ${longest} characters. Shorten it.`)
    .nullish()
    .transform((value) => value || null)
}

/** The part of a list a screen asks for; lists page and sort in the studio. */
export const page = z
  .object({ offset: z.int().min(0), limit: z.int().min(1).max(500) })
  .default({ offset: 0, limit: 100 })
