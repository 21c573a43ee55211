import * as z from 'zod'
import { findEquipment } from '../../db/equipment.ts'
import type { Id } from '../../db/ids.ts'
import { thePace } from '../../db/pace.ts'
import { plannedSpins, planRig } from '../../db/rigPlans.ts'
import { findRevision, type RigLight, type RigRevision, revisionsOf } from '../../db/rigRevisions.ts'
import { addRig, archiveRig, changeRig, findRig, listRigs, reviseRig, rigChoices } from '../../db/rigs.ts'
import { findSettings } from '../../db/settings.ts'
import { changeoverItems } from '../trade/changeover.ts'
import { pairLights } from '../trade/lightPairs.ts'
import { kept, type Shown, shown } from '../trade/measures.ts'
import { sizeClasses } from '../trade/product.ts'
import { Refusal } from '../trade/refusal.ts'
import { type Comparable, compareRigs } from '../trade/rigs.ts'
import { call, type InStudio, idOf, maybeText, page, router, text } from './kit.ts'
import { namingTwin } from './twins.ts'

const distance = (what: string) =>
  z
    .number(`${what} is missing. Enter it in mm.`)
    .min(10, `${what} is at least 10 mm.`)
    .max(50_000, `${what} is at most 50,000 mm.`)
const height = (what: string) =>
  z
    .number(`${what} is missing. Enter it in mm, measured from the platter’s surface.`)
    .min(-5_000, `${what} is at most 5,000 mm below the platter.`)
    .max(10_000, `${what} is at most 10,000 mm above the platter.`)
const tilt = (what: string) =>
  z
    .number(`${what} is missing. Enter it in degrees; level is 0°.`)
    .min(-90, `${what} lies between -90° and 90°.`)
    .max(90, `${what} lies between -90° and 90°.`)
const sensorSide = z
  .number()
  .min(1, 'A sensor’s side is at least 1 mm.')
  .max(200, 'A sensor’s side is at most 200 mm.')
  .nullable()
  .default(null)
const sensorPixels = z
  .int()
  .min(100, 'A sensor has at least 100 pixels a side.')
  .max(50_000, 'A sensor has at most 50,000 pixels a side.')
  .nullable()
  .default(null)
const fNumber = (what: string) =>
  z
    .int(`${what} is not a number. Enter it as on the lens, such as 2.8.`)
    .min(50, `${what} is at least 0.5.`)
    .max(12_800, `${what} is at most 128.`)
    .nullable()
    .default(null)
const productSize = (what: string) =>
  z
    .number()
    .min(1, `${what} is at least 1 mm.`)
    .max(20_000, `${what} is at most 20,000 mm.`)
    .nullable()
    .default(null)
const equipmentId = idOf('equipment').nullable().default(null)

const LightInput = z.object({
  kind: text('The light’s kind', 80),
  equipmentId,
  modifier: maybeText(120),
  bearingDeg: z
    .number('The light’s bearing is missing. Enter degrees from the camera’s side.')
    .min(0, 'A bearing lies between 0° and 360°.')
    .lt(360, 'A bearing is less than 360°; 360° is 0°.'),
  elevationDeg: tilt('A light’s elevation').default(0),
  distanceMm: distance('The light’s distance'),
  heightMm: height('The light’s height').default(0),
  power: maybeText(60),
  colourTemperatureK: z
    .int()
    .min(1_500, 'A colour temperature lies between 1,500 and 20,000 K.')
    .max(20_000, 'A colour temperature lies between 1,500 and 20,000 K.')
    .nullable()
    .default(null),
})

const RevisionInput = z
  .object({
    platterId: idOf('platter'),
    backdrop: text('The backdrop', 120),
    backdropEquipmentId: equipmentId,
    camera: text('The camera', 120),
    cameraEquipmentId: equipmentId,
    sensorWidthMm: sensorSide,
    sensorHeightMm: sensorSide,
    sensorWidthPx: sensorPixels,
    sensorHeightPx: sensorPixels,
    lens: text('The lens', 120),
    lensEquipmentId: equipmentId,
    focalMm: z
      .number('The focal length is missing. Enter it in mm.')
      .min(1, 'A focal length is at least 1 mm.')
      .max(2_000, 'A focal length is at most 2,000 mm.'),
    widestCenti: fNumber('The lens’s widest f-number'),
    smallestCenti: fNumber('The lens’s smallest f-number'),
    cameraDistanceMm: distance('The camera’s distance'),
    cameraHeightMm: height('The camera’s height'),
    cameraTiltDeg: tilt('The camera’s tilt').default(0),
    productSweptMm: productSize('The product’s swept width'),
    productHeightMm: productSize('The product’s height'),
    flags: maybeText(300),
    note: maybeText(),
    why: text('Why it stands like this', 300),
    lights: z.array(LightInput).max(24, 'A rig has at most 24 lights.'),
  })
  .refine(({ focalMm, cameraDistanceMm }) => focalMm < cameraDistanceMm, {
    error:
      'The focal length is not shorter than the camera’s distance: nothing can be in focus there. Correct one of them.',
    path: ['focalMm'],
  })
  .refine(
    ({ widestCenti, smallestCenti }) =>
      widestCenti === null || smallestCenti === null || smallestCenti >= widestCenti,
    {
      error:
        'The lens closes to a smaller number than it opens to. Its smallest opening has the larger number: correct one of them.',
      path: ['smallestCenti'],
    },
  )

const RigInput = z.object({
  name: text('The rig’s name', 80),
  sizeClass: z.enum(sizeClasses),
  note: maybeText(),
})

const rigId = idOf('rig')
const rigRevisionId = idOf('rig_revision')
const shootIds = z
  .array(idOf('shoot'))
  .min(1, 'No spin is chosen. Choose at least one.')
  .max(5000, 'At most 5,000 spins can be planned at once.')

/** Rigs, their revisions, and which spins are planned on them. Lengths in mm, angles in degrees. */
export const rigCalls = router({
  list: call
    .input(
      z.object({
        order: z.enum(['name', 'sizeClass', 'newest']).default('sizeClass'),
        archived: z.boolean().default(false),
        page,
      }),
    )
    .query(({ ctx, input }) => shown(listRigs(ctx.db, input.order, input.archived, input.page))),

  /** Every rig in use with its newest revision, for a choice. */
  choices: call.query(({ ctx }) => rigChoices(ctx.db)),

  one: call.input(z.object({ rigId })).query(({ ctx, input }) => ({
    rig: knownRig(ctx, input.rigId),
    revisions: shown(revisionsOf(ctx.db, input.rigId)),
  })),

  revision: call
    .input(z.object({ rigRevisionId }))
    .query(({ ctx, input }) => shown(knownRevision(ctx, input.rigRevisionId))),

  /**
   * Two revisions beside each other, of one rig or of two: every figure with whether it differs, and what the change
   * from the first to the second is made of, by the studio's own times.
   */
  compare: call.input(z.object({ before: rigRevisionId, after: rigRevisionId })).query(({ ctx, input }) => {
    const [before, after] = [knownRevision(ctx, input.before), knownRevision(ctx, input.after)]
    return {
      figures: compareRigs(
        comparable(ctx, shown(before)),
        comparable(ctx, shown(after)),
        pairLights(before.lights, after.lights),
      ),
      changeover: changeoverItems(before, after, false, thePace(ctx.db)),
    }
  }),

  add: call
    .input(z.object({ rig: RigInput, revision: RevisionInput }))
    .mutation(({ ctx, input }) => namingTwin('rig', () => addRig(ctx, input.rig, kept(input.revision)))),

  revise: call
    .input(z.object({ rigId, revision: RevisionInput, rig: RigInput.optional() }))
    .mutation(({ ctx, input }) =>
      namingTwin('rig', () => reviseRig(ctx, input.rigId, kept(input.revision), input.rig)),
    ),

  change: call.input(z.object({ rigId, rig: RigInput })).mutation(({ ctx, input }) => {
    knownRig(ctx, input.rigId)
    namingTwin('rig', () => changeRig(ctx, input.rigId, input.rig))
  }),

  archive: call.input(z.object({ rigId, archived: z.boolean() })).mutation(({ ctx, input }) => {
    knownRig(ctx, input.rigId)
    archiveRig(ctx, input.rigId, input.archived)
  }),

  /** The spins of a job with what they are planned on and what their families would give. */
  planned: call
    .input(z.object({ jobId: idOf('job') }))
    .query(({ ctx, input }) => shown(plannedSpins(ctx.db, input.jobId))),

  /** Plans a rig and settings; what is left out is each spin's family's. */
  plan: call
    .input(
      z.object({
        shootIds,
        rigRevisionId: rigRevisionId.optional(),
        settingsId: idOf('settings').optional(),
      }),
    )
    .mutation(({ ctx, input }) => {
      if (input.settingsId !== undefined && !findSettings(ctx.db, input.settingsId)) {
        throw new Refusal('no-settings', 'These settings are not in the studio.', { field: 'settingsId' })
      }
      return planRig(ctx, input)
    }),
})

function knownRig(ctx: InStudio, id: z.output<typeof rigId>) {
  const rig = findRig(ctx.db, id)
  if (!rig) throw new Refusal('no-rig', 'This rig is not in the studio.')
  return rig
}

function knownRevision(ctx: InStudio, id: z.output<typeof rigRevisionId>): RigRevision {
  const revision = findRevision(ctx.db, id)
  if (!revision) throw new Refusal('no-revision', 'This revision is not in the studio.')
  return revision
}

/** What two revisions are compared by: what stands, not who wrote it down or why. */
const comparedValues = [
  'platterName',
  'rimMm',
  'divisionMm',
  'surface',
  'loadLimitG',
  'backdrop',
  'camera',
  'sensorWidthMm',
  'sensorHeightMm',
  'sensorWidthPx',
  'sensorHeightPx',
  'lens',
  'focalMm',
  'widestCenti',
  'smallestCenti',
  'cameraDistanceMm',
  'cameraHeightMm',
  'cameraTiltDeg',
  'productSweptMm',
  'productHeightMm',
  'flags',
  'note',
] as const satisfies readonly (keyof Shown<RigRevision>)[]

const comparedOfLight = [
  'modifier',
  'bearingDeg',
  'elevationDeg',
  'distanceMm',
  'heightMm',
  'power',
  'colourTemperatureK',
] as const satisfies readonly (keyof Shown<RigLight>)[]

function comparable({ db }: InStudio, revision: Shown<RigRevision>): Comparable {
  const piece = (id: Id<'equipment'> | null) => (id === null ? null : (findEquipment(db, id)?.name ?? null))
  return {
    values: {
      ...Object.fromEntries(comparedValues.map((field) => [field, revision[field]])),
      backdropEquipment: piece(revision.backdropEquipmentId),
      cameraEquipment: piece(revision.cameraEquipmentId),
      lensEquipment: piece(revision.lensEquipmentId),
    },
    lights: revision.lights.map((light) => ({
      kind: light.kind,
      equipment: piece(light.equipmentId),
      ...Object.fromEntries(comparedOfLight.map((field) => [field, light[field]])),
    })),
  }
}
