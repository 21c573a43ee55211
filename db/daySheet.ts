import { dayOf, instantAt, minutesBetween } from '../main/trade/calendar.ts'
import type { Caution } from '../main/trade/caution.ts'
import { type ChangeStep, cautionsOf, changeSteps } from '../main/trade/changeSteps.ts'
import { clockChange, marksText } from '../main/trade/daySheet.ts'
import { settingsLine } from '../main/trade/settings.ts'
import { type Bench, closuresBetween } from './benches.ts'
import { type Booking, bookingsBetween } from './bookings.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { thePace } from './pace.ts'
import { findRevision, type RigRevision } from './rigRevisions.ts'
import { findSettings } from './settings.ts'
import { builtBefore, type RigBlock, rigNameOf, settingsAfter, settingsAtFirst } from './standingRig.ts'
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
  /** What it weighs on the platter, stand and all; null where a product's mass is not known. */
  readonly massG: number | null
}

export interface SheetBlock extends Omit<Booking, 'spins'> {
  readonly spins: readonly SheetSpin[]
  /** Minutes that really pass, also while the clocks change. */
  readonly minutes: number
  /** What is moved at its beginning, from what stands to its own rig; none where that stands already. */
  readonly steps: readonly ChangeStep[]
  readonly cautions: readonly Caution[]
  /** How many minutes longer the steps take than is booked for them; 0 where they fit. */
  readonly missingMinutes: number
}

/** What stands on a bench before a day begins. */
export interface StandingBefore {
  readonly rig: string
  readonly revision: number
  /** The day on which it was last built or turned on. */
  readonly since: string
}

/** A bench's day in its order. */
export interface DaySheet {
  readonly benchId: Id<'bench'>
  readonly bench: string
  readonly day: string
  /** Why the bench is closed on this day. */
  readonly closed: string | null
  readonly clockChange: string | null
  readonly standingBefore: StandingBefore | null
  readonly blocks: readonly SheetBlock[]
}

/** What happens on a bench on a day of the studio's calendar, in its order, each set change step by step. */
export function daySheetOf(db: Db, bench: Bench, day: string): DaySheet {
  const zone = studioZone(db)
  const from = instantAt(day, 0, zone).toISOString()
  const before = builtBefore(db, bench.id, from)
  let standing: Standing | null = before ? standingAfter(db, before) : null
  const blocks = bookingsBetween(db, bench.id, from, instantAt(day, 1440, zone).toISOString()).map(
    (booking) => {
      const rig = booking.rigRevisionId === null ? undefined : findRevision(db, booking.rigRevisionId)
      const steps = rig ? stepsTo(db, standing, booking, rig) : []
      if (rig) standing = standingAfter(db, booking) ?? standing
      const minutes = minutesBetween(booking.startsAt, booking.endsAt)
      const stepMinutes = steps.reduce((sum, step) => sum + step.minutes, 0)
      return {
        ...booking,
        minutes,
        missingMinutes: Math.max(0, Math.ceil(stepMinutes) - (booking.kind === 'set change' ? minutes : 0)),
        steps,
        cautions: cautionsOf(steps),
        spins: booking.spins.map(({ shootId }) => sheetSpin(db, shootId, rig)),
      }
    },
  )
  const closure = closuresBetween(db, day, day).find(
    ({ benchId }) => benchId === null || benchId === bench.id,
  )
  return {
    benchId: bench.id,
    bench: bench.name,
    day,
    closed: closure?.reason ?? null,
    clockChange: clockChange(day, zone),
    standingBefore: before && standingBefore(db, before, zone),
    blocks,
  }
}

/** A rig with what is dialled on it. */
interface Standing {
  readonly rig: RigRevision
  readonly settingsId: Id<'settings'> | null
}

function standingBefore(db: Db, block: RigBlock, zone: string): StandingBefore | null {
  const { rigRevisionId } = block
  const rig = rigNameOf(db, rigRevisionId)
  if (rigRevisionId === null || rig === null) return null
  return { rig, revision: findRevision(db, rigRevisionId)?.revision ?? 1, since: dayOf(block.startsAt, zone) }
}

/** What stands once a block is over. */
function standingAfter(db: Db, block: RigBlock): Standing | null {
  const rig = block.rigRevisionId === null ? undefined : findRevision(db, block.rigRevisionId)
  return rig ? { rig, settingsId: settingsAfter(db, block) } : null
}

function stepsTo(
  db: Db,
  standing: Standing | null,
  block: RigBlock,
  rig: RigRevision,
): readonly ChangeStep[] {
  const first = settingsAtFirst(db, block)
  const settings = first === null ? undefined : findSettings(db, first)
  const dialled = settings && first !== standing?.settingsId ? settingsLine(settings) : null
  return changeSteps(standing?.rig ?? null, rig, dialled, thePace(db))
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
    {
      code: string
      handling: string | null
      loadG: number | null
      state: string | null
      place: string | null
    }
  >(
    db,
    `SELECT product.code, product.handling_note AS handling, product.load_g AS loadG, sample.state, sample.place
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
    massG: products.reduce<number | null>(
      (sum, { loadG }) => (sum === null || loadG === null ? null : sum + loadG),
      0,
    ),
  }
}

/** Where a sample is to be found: its place while it is here, else what has become of it. */
function placeText(state: string | null, place: string | null): string {
  if (state === 'in' || state === 'broken')
    return `${place ?? 'here, no place noted'}${state === 'broken' ? ', broken' : ''}`
  return state === null ? 'not on the list of samples' : state === 'expected' ? 'not in yet' : state
}
