import { instantAt } from '../main/trade/calendar.ts'
import { marksText } from '../main/trade/daySheet.ts'
import { settingsLine } from '../main/trade/settings.ts'
import type { Bench } from './benches.ts'
import { type Booking, bookingsBetween } from './bookings.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { findRevision, type RigRevision } from './rigRevisions.ts'
import { findSettings } from './settings.ts'
import { prepared } from './statement.ts'

/** One spin on the day sheet, with what a person at the bench needs to find and to dial. */
export interface SheetSpin {
  readonly shootId: Id<'shoot'>
  readonly name: string
  /** The client's codes of its products. */
  readonly codes: readonly string[]
  readonly rows: readonly {
    readonly viewAngleMdeg: number
    readonly framesPerTurn: number
    readonly overlapFrames: number
    /** How to step on this rig, or null where no rig is planned. */
    readonly marks: string | null
  }[]
  /** What is dialled, in one line; null where no settings are planned. */
  readonly settings: string | null
  /** Where each sample stands, or what is wrong with it. */
  readonly places: readonly string[]
  readonly startPose: string | null
  readonly handling: readonly string[]
}

export interface SheetBlock extends Omit<Booking, 'spins'> {
  readonly spins: readonly SheetSpin[]
}

/** A bench's day in its order. */
export interface DaySheet {
  readonly benchId: Id<'bench'>
  readonly bench: string
  readonly day: string
  readonly blocks: readonly SheetBlock[]
}

/** What happens on a bench on a day of the studio's calendar, in its order. */
export function daySheetOf(db: Db, bench: Bench, day: string): DaySheet {
  const zone = studioZone(db)
  const blocks = bookingsBetween(
    db,
    bench.id,
    instantAt(day, 0, zone).toISOString(),
    instantAt(day, 1440, zone).toISOString(),
  ).map((booking) => {
    const rig = booking.rigRevisionId === null ? undefined : findRevision(db, booking.rigRevisionId)
    return { ...booking, spins: booking.spins.map(({ shootId }) => sheetSpin(db, shootId, rig)) }
  })
  return { benchId: bench.id, bench: bench.name, day, blocks }
}

function sheetSpin(db: Db, shootId: Id<'shoot'>, rig: RigRevision | undefined): SheetSpin {
  const spin = prepared<
    [number],
    { name: string; settingsId: Id<'settings'> | null; startPose: string | null }
  >(
    db,
    `SELECT shoot.name, shoot.settings_id AS settingsId,
       (SELECT start_pose FROM spin_start_pose WHERE shoot_id = shoot.id) AS startPose
     FROM shoot WHERE shoot.id = ?`,
  ).get(shootId)
  if (!spin) throw new Error(`There is no spin ${shootId}.`)
  const rows = prepared<[number], { viewAngleMdeg: number; framesPerTurn: number; overlapFrames: number }>(
    db,
    `SELECT view_angle_mdeg AS viewAngleMdeg, frames_per_turn AS framesPerTurn, overlap_frames AS overlapFrames
     FROM shoot_row WHERE shoot_id = ? ORDER BY row`,
  ).all(shootId)
  const products = prepared<
    [number],
    { code: string; handling: string | null; state: string | null; place: string | null }
  >(
    db,
    `SELECT product.code, product.handling_note AS handling, sample.state, sample.place
     FROM shoot_product sp JOIN shoot ON shoot.id = sp.shoot_id JOIN product ON product.id = sp.product_id
     LEFT JOIN sample ON sample.product_id = product.id AND sample.job_id = shoot.job_id
     WHERE sp.shoot_id = ? ORDER BY sp.position`,
  ).all(shootId)
  const settings = spin.settingsId === null ? undefined : findSettings(db, spin.settingsId)
  return {
    shootId,
    name: spin.name,
    codes: products.map(({ code }) => code),
    rows: rows.map((row) => ({
      ...row,
      marks: rig ? marksText(rig.rimUm10, row.framesPerTurn, rig.divisionUm10) : null,
    })),
    settings: settings ? settingsLine(settings) : null,
    places: products.map(({ state, place }) => placeText(state, place)),
    startPose: spin.startPose,
    handling: products.flatMap(({ handling }) => handling ?? []),
  }
}

/** Where a sample is to be found: its place while it is here, else what has become of it. */
function placeText(state: string | null, place: string | null): string {
  if (state === 'in' || state === 'broken')
    return `${place ?? 'here, no place noted'}${state === 'broken' ? ', broken' : ''}`
  return state === null ? 'not on the list of samples' : state === 'expected' ? 'not in yet' : state
}
