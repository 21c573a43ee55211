import * as z from 'zod'
import { studioZone } from '../../db/calendar.ts'
import {
  addEquipment,
  addOutage,
  changeEquipment,
  endOutage,
  equipmentKinds,
  findEquipment,
  listEquipment,
  retireEquipment,
} from '../../db/equipment.ts'
import { dayOf } from '../trade/calendar.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, day, type InStudio, idOf, maybeText, router, text } from './kit.ts'
import { namingTwin } from './twins.ts'

const EquipmentInput = z.object({
  name: text('The name', 120),
  kind: z.enum(equipmentKinds),
  count: z.int('How many there are is a whole number.').min(1, 'There is at least one of it.').max(1000),
  dayMinor: z.int().min(0, 'A day costs 0 or more.').default(0),
  note: maybeText(),
})

const equipmentId = idOf('equipment')

/** Equipment, and when it is away or in repair. */
export const equipmentCalls = router({
  list: call
    .input(z.object({ gone: z.boolean() }).default({ gone: false }))
    .query(({ ctx, input }) => listEquipment(ctx.db, dayOf(ctx.now, studioZone(ctx.db)), input.gone)),

  add: call.input(EquipmentInput).mutation(({ ctx, input }) => ({
    equipmentId: namingTwin('equipment', () => addEquipment(ctx, input)),
  })),

  change: call.input(z.object({ equipmentId, equipment: EquipmentInput })).mutation(({ ctx, input }) => {
    known(ctx, input.equipmentId)
    namingTwin('equipment', () => changeEquipment(ctx, input.equipmentId, input.equipment))
  }),

  retire: call.input(z.object({ equipmentId, gone: z.boolean() })).mutation(({ ctx, input }) => {
    known(ctx, input.equipmentId)
    retireEquipment(ctx, input.equipmentId, input.gone)
  }),

  addOutage: call
    .input(
      z
        .object({
          equipmentId,
          kind: z.enum(['away', 'repair']),
          fromDay: day,
          toDay: day.nullable(),
          reason: maybeText(200),
        })
        .refine(({ fromDay, toDay }) => toDay === null || toDay >= fromDay, {
          message: 'The last day is before the first. Enter that day or a later one.',
          path: ['toDay'],
        }),
    )
    .mutation(({ ctx, input }) => {
      known(ctx, input.equipmentId)
      return { outageId: addOutage(ctx, input) }
    }),

  /** Says that a thing is back: its last day away. */
  endOutage: call
    .input(z.object({ outageId: idOf('equipment_outage'), toDay: day }))
    .mutation(({ ctx, input }) => endOutage(ctx, input.outageId, input.toDay)),
})

function known(ctx: InStudio, id: z.output<typeof equipmentId>): void {
  if (!findEquipment(ctx.db, id)) {
    throw new Refusal('no-equipment', 'This piece of equipment is not in the studio.')
  }
}
