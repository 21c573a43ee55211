import * as z from 'zod'
import {
  platterLimit,
  rowsToTurn,
  type SpinToTurn,
  spinToTurn,
  standOfTake,
  standsAtBench,
} from '../../db/beforeTake.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { studioFigures, thePace } from '../../db/pace.ts'
import { changePreparation, listPreparation } from '../../db/preparation.ts'
import { findRevision, type RigRevision } from '../../db/rigRevisions.ts'
import { findRig } from '../../db/rigs.ts'
import { frameBytes } from '../trade/cards.ts'
import { changeoverItems, isDialled } from '../trade/changeover.ts'
import { shown } from '../trade/measures.ts'
import { preparationFor } from '../trade/preparation.ts'
import { finishes } from '../trade/product.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, idOf, router, text } from './kit.ts'

const steps = z.array(text('A step', 200)).max(20, 'At most 20 steps a list. Put some of them together.')

/** Bits of one raw pixel on the card: common practice, no published source. */
const rawBitsPerPixel = 14

/** Getting a product ready and putting it away, and what stands against what is to stand. */
export const preparationCalls = router({
  /** The studio's lists, one for every finish. */
  lists: call.query(({ ctx }) => listPreparation(ctx.db)),

  change: call
    .input(
      z
        .array(z.object({ finish: z.enum(finishes), before: steps, after: steps }))
        .min(1)
        .max(finishes.length),
    )
    .mutation(({ ctx, input }) => changePreparation(ctx, input)),

  /** All that is to be looked at before a take of a spin on a rig, at a bench. */
  before: call
    .input(
      z.object({
        shootId: idOf('shoot'),
        rigRevisionId: idOf('rig_revision').nullable(),
        settingsId: idOf('settings').nullable(),
        benchId: idOf('bench').nullable(),
      }),
    )
    .query(({ ctx, input }) => {
      const { db } = ctx
      const spin = knownSpin(db, input.shootId)
      const next = input.rigRevisionId === null ? undefined : findRevision(db, input.rigRevisionId)
      const stands = input.benchId === null ? undefined : standsAtBench(db, input.benchId)
      return {
        spin,
        ...preparationFor(
          listPreparation(db),
          spin.products.map(({ finish }) => finish),
        ),
        frameBytes: bytesOfFrame(db, next),
        load: next ? loadOn(db, spin, next.id) : null,
        change: next ? changeOf(db, next, input.settingsId, stands) : null,
        rows:
          next && input.settingsId !== null
            ? shown(rowsToTurn(db, input.shootId, next.id, input.settingsId))
            : [],
      }
    }),

  /** What is done to the products of a take once they leave the platter. */
  after: call.input(z.object({ takeId: idOf('take') })).query(({ ctx, input }) => {
    const spin = knownSpin(ctx.db, knownTake(ctx.db, input.takeId).shootId)
    return preparationFor(
      listPreparation(ctx.db),
      spin.products.map(({ finish }) => finish),
    ).after
  }),

  /** The rows of a take's spin, each with its camera's place and whether a take of it is kept. */
  rows: call.input(z.object({ takeId: idOf('take') })).query(({ ctx, input }) => {
    const { shootId, rigRevisionId, settingsId } = knownTake(ctx.db, input.takeId)
    return shown(rowsToTurn(ctx.db, shootId, rigRevisionId, settingsId))
  }),
})

/** From the rig's sensor, uncompressed, so that a card is rather too large; else as the studio counts a frame. */
function bytesOfFrame(db: Db, rig: RigRevision | undefined): { bytes: number; isFromSensor: boolean } {
  if (rig?.sensorWidthPx && rig.sensorHeightPx) {
    const { sensorWidthPx: widthPx, sensorHeightPx: heightPx } = rig
    const bytes = frameBytes({ widthPx, heightPx, bitsPerPixel: rawBitsPerPixel, compression: 1 })
    return { bytes, isFromSensor: true }
  }
  return { bytes: studioFigures(db).frameBytes, isFromSensor: false }
}

function loadOn(db: Db, spin: SpinToTurn, rigRevisionId: Id<'rig_revision'>) {
  const platter = platterLimit(db, rigRevisionId)
  return {
    platter: platter?.name ?? '',
    limitG: platter?.limitG ?? null,
    massG: spin.products.reduce((sum, { massG }) => sum + (massG ?? 0), 0),
    isWeighed: spin.products.every(({ massG }) => massG !== null),
  }
}

/** What stands at the bench, and how long it takes from there. */
function changeOf(
  db: Db,
  next: RigRevision,
  settingsId: Id<'settings'> | null,
  stands: ReturnType<typeof standsAtBench>,
) {
  const from = stands ? (findRevision(db, stands.rigRevisionId) ?? null) : null
  const newSettings = isDialled(stands?.settingsId, settingsId)
  return {
    standing: from && rigWords(db, from),
    next: rigWords(db, next),
    isSameRig: from?.id === next.id,
    newSettings,
    items: changeoverItems(from, next, newSettings, thePace(db)),
  }
}

function rigWords(db: Db, { id, rigId, revision }: RigRevision) {
  return { rigRevisionId: id, rigId, revision, name: findRig(db, rigId)?.name ?? '' }
}

function knownSpin(db: Db, shootId: Id<'shoot'>): SpinToTurn {
  const spin = spinToTurn(db, shootId)
  if (!spin) throw new Refusal('no-spin', 'This spin is not in the studio.')
  return spin
}

function knownTake(db: Db, takeId: Id<'take'>) {
  const take = standOfTake(db, takeId)
  if (!take) throw new Refusal('no-take', 'This take is not in the studio.')
  return take
}
