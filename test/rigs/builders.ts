import { insertBrief, plainBrief } from '../../db/briefs.ts'
import type { Id } from '../../db/ids.ts'
import { refreshStanding } from '../../db/standing.ts'
import type { Asks } from '../../main/api/types.ts'
import { aClient } from '../builders.ts'
import type { TestStudio } from '../studio.ts'

/** A platter of invented figures: 1,220 mm of rim, read to whole millimetres. */
export function aPlatter(of: Partial<Asks['platters']['add']> = {}): Asks['platters']['add'] {
  return {
    name: 'Birch platter',
    rimMm: 1_220,
    divisionMm: 1,
    loadLimitG: 12_000,
    surface: 'matt white board',
    note: null,
    ...of,
  }
}

type NewRevision = Asks['rigs']['add']['revision']

/** What stands on a plain rig: two softboxes, one lens. */
export function aRevision(platterId: number, of: Partial<NewRevision> = {}): NewRevision {
  return {
    platterId,
    backdrop: 'white paper sweep',
    camera: 'house camera',
    sensorWidthMm: 36,
    sensorHeightMm: 24,
    lens: '100 mm macro',
    focalMm: 100,
    cameraDistanceMm: 1_850,
    cameraHeightMm: 220,
    why: 'first set-up',
    lights: [aLight(45), aLight(315)],
    ...of,
  }
}

export function aLight(bearingDeg: number, of: Partial<NewRevision['lights'][number]> = {}) {
  return { kind: 'strip softbox', bearingDeg, distanceMm: 900, heightMm: 400, ...of }
}

/** A rig in the studio, on a platter of its own. */
export async function aRig(
  studio: TestStudio,
  name = 'Glass, small',
  platter = aPlatter({ name: `${name} platter` }),
) {
  const { platterId } = await studio.api.platters.add(platter)
  const made = await studio.api.rigs.add({
    rig: { name, sizeClass: 'small', note: null },
    revision: aRevision(platterId),
  })
  return { platterId, ...made }
}

export interface StoredSpin {
  readonly name: string
  readonly massG?: number | null
  readonly estimateMs?: number
  readonly sample?: 'expected' | 'in' | 'missing'
  readonly familyId?: number
}

/** An accepted order with one spin per product, laid straight into the store: the tests here are about what comes after. */
export async function aStoredJob(
  studio: TestStudio,
  spins: readonly StoredSpin[],
  of: { readonly number?: string; readonly clientId?: number } = {},
) {
  const { db, writing } = studio
  const number = of.number ?? 'J-2026-001'
  const clientId =
    of.clientId ?? (await studio.api.clients.add(aClient({ name: `Client of ${number}` }))).clientId
  const insert = (table: string, row: Record<string, unknown>): number =>
    Number(
      db
        .prepare(
          `INSERT INTO ${table} (${Object.keys(row).join(', ')}) VALUES (${Object.keys(row).fill('?').join(', ')})`,
        )
        .run(...Object.values(row)).lastInsertRowid,
    )
  const jobId = insert('job', {
    number,
    client_id: clientId,
    title: `Order ${number}`,
    brief_id: insertBrief(db, plainBrief),
    currency: 'EUR',
    enquired_day: '2026-02-20',
    due_day: '2026-03-20',
    rounds_included: 1,
    created_at: writing.now,
  }) as Id<'job'>
  insert('quote', {
    job_id: jobId,
    number: `Q for ${number}`,
    version: 1,
    state: 'accepted',
    currency: 'EUR',
    step_ms: 6_000,
    tax_rate_id: 1,
    valid_until: '2026-04-01',
    sent_at: writing.now,
    decided_at: writing.now,
    created_at: writing.now,
  })
  const shootIds = spins.map((spin, index) => {
    const productId = insert('product', {
      client_id: clientId,
      family_id: spin.familyId ?? null,
      code: `${number}-${spin.name}`,
      name: spin.name,
      mass_g: spin.massG === undefined ? 500 : spin.massG,
      created_at: writing.now,
    })
    const state = spin.sample ?? 'in'
    insert('sample', {
      job_id: jobId,
      product_id: productId,
      state,
      arrived_at: state === 'in' ? writing.now : null,
      place: state === 'in' ? `shelf ${index + 1}` : null,
    })
    const shootId = insert('shoot', {
      job_id: jobId,
      position: index + 1,
      name: spin.name,
      estimate_ms: spin.estimateMs ?? 3_600_000,
    })
    insert('shoot_product', { shoot_id: shootId, product_id: productId })
    insert('shoot_row', { shoot_id: shootId, row: 1, frames_per_turn: 244, overlap_frames: 3 })
    return shootId
  })
  refreshStanding(writing, jobId)
  return { jobId, clientId, shootIds, insert }
}
