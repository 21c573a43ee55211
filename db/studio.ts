import { startingPreparation } from '../main/trade/preparation.ts'
import type { Finish, SizeClass } from '../main/trade/product.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { writePreparation } from './preparation.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** What a new studio must say of itself; everything else starts from sane figures and is changed later. */
export interface NewStudio {
  readonly name: string
  readonly personName: string
  readonly country: string
  readonly currency: string
  readonly timeZone: string
  readonly locale: string
  readonly taxName: string
  readonly taxRatePpm: number
  readonly isDemo: boolean
}

/** The studio's own row. Money in minor units of `currency`, rates in ppm. */
export interface Studio {
  readonly name: string
  readonly legalName: string | null
  readonly street: string | null
  readonly postalCode: string | null
  readonly city: string | null
  readonly region: string | null
  readonly country: string
  readonly email: string | null
  readonly phone: string | null
  readonly taxNumber: string | null
  readonly companyNumber: string | null
  readonly iban: string | null
  readonly bic: string | null
  readonly currency: string
  readonly timeZone: string
  readonly locale: string
  readonly paper: 'A4' | 'Letter'
  readonly quoteValidDays: number
  readonly paymentDays: number
  readonly depositPpm: number
  readonly yesDays: number
  readonly benchHourMinor: number
  readonly deskHourMinor: number
  /** What an hour of a second person at the bench costs, beside the bench hour. */
  readonly secondHourMinor: number
  readonly halfDayMinor: number
  readonly dayMinor: number
  readonly minimumMinor: number
  readonly rushPpm: number
  readonly roundsIncluded: number
  readonly lateInterestPpm: number
  readonly lateFeeMinor: number
  readonly terms: string | null
  readonly isDemo: boolean
}

const studioColumns = `name, legal_name AS legalName, street, postal_code AS postalCode, city, region, country,
  email, phone, tax_number AS taxNumber, company_number AS companyNumber, iban, bic, currency,
  time_zone AS timeZone, locale, paper, quote_valid_days AS quoteValidDays, payment_days AS paymentDays,
  deposit_ppm AS depositPpm, yes_days AS yesDays, bench_hour_minor AS benchHourMinor,
  desk_hour_minor AS deskHourMinor, second_hour_minor AS secondHourMinor, half_day_minor AS halfDayMinor, day_minor AS dayMinor,
  minimum_minor AS minimumMinor, rush_ppm AS rushPpm, rounds_included AS roundsIncluded,
  late_interest_ppm AS lateInterestPpm, late_fee_minor AS lateFeeMinor, terms, is_demo AS isDemo`

/** The studio, or undefined in a store that has just been made. */
export function findStudio(db: Db): Studio | undefined {
  const row = prepared<[], Omit<Studio, 'isDemo'> & { isDemo: 0 | 1 }>(
    db,
    `SELECT ${studioColumns} FROM studio WHERE id = 1`,
  ).get()
  return row && { ...row, isDemo: row.isDemo === 1 }
}

/** The studio of an open store. */
export function theStudio(db: Db): Studio {
  const studio = findStudio(db)
  if (!studio) throw new Error('The store holds no studio row.')
  return studio
}

/** The person and device that calls are written to where a door does not say. */
export function ownerOf(db: Db): Writing['who'] | undefined {
  return prepared<[], { personId: Id<'person'>; deviceId: Id<'device'> }>(
    db,
    'SELECT person_id AS personId, id AS deviceId FROM device WHERE revoked_at IS NULL ORDER BY id LIMIT 1',
  ).get()
}

/**
 * Fills a store that has just been made: the studio's row, its owner and first device, and figures to start
 * from. All of it or nothing.
 */
export function insertStudio(db: Db, studio: NewStudio, now: string): Writing['who'] {
  return inOneTransaction(db, () => {
    prepared<unknown[]>(
      db,
      `INSERT INTO studio (id, name, country, currency, time_zone, locale, bench_hour_minor, desk_hour_minor, is_demo, created_at)
       VALUES (1, ?, ?, ?, ?, ?, 0, 0, ?, ?)`,
    ).run(
      studio.name,
      studio.country,
      studio.currency,
      studio.timeZone,
      studio.locale,
      studio.isDemo ? 1 : 0,
      now,
    )
    const personId = newId<Id<'person'>>(
      prepared<[string]>(db, `INSERT INTO person (name, role) VALUES (?, 'photographer')`).run(
        studio.personName,
      ),
    )
    const deviceId = newId<Id<'device'>>(
      prepared<[number, string]>(
        db,
        `INSERT INTO device (name, door, person_id, first_seen_at) VALUES ('This computer', 'desktop', ?, ?)`,
      ).run(personId, now),
    )
    insertStartingFigures(db, studio)
    const who = { personId, deviceId }
    writeEvent({ db, now, who }, { subject: 'studio', subjectId: 1, what: 'studio made' })
    return who
  })
}

/** Common practice, no published source: figures to be replaced by the studio's own takes. */
const startingPace = `INSERT INTO pace (id, step_ms, step_spread_ppm, check_frames, overlap_frames, row_change_ms,
  restart_ppm, restart_pause_ms, reshoot_ppm, change_platter_ms, change_light_ms, change_camera_ms, change_lens_ms, change_backdrop_ms,
  change_settings_ms, frame_bytes, copy_bytes_per_second, develop_frame_ms, pick_spin_ms, export_frame_ms,
  small_max_um, medium_max_um, handling_spread_ppm, beside_ppm, turning_cap_minutes)
  VALUES (1, 6000, 250000, 6, 3, 600000, 80000, 180000, 50000, 900000, 300000, 480000, 300000, 600000, 60000, 42000000,
    90000000, 400, 300000, 300, 150000, 450000, 350000, 600000, 360)`

const startingFinishClasses: readonly (readonly [string, number, number])[] = [
  ['none', 1, 0],
  ['white by exposure', 1, 2_000],
  ['dust', 1, 15_000],
  ['cut-out', 1, 60_000],
  ['stand out', 1, 45_000],
]

const handlingMinutes: Record<SizeClass, Record<Finish, readonly [number, number]>> = {
  small: { matt: [8, 5], satin: [9, 6], gloss: [12, 8], mirror: [18, 12], clear: [18, 12], textile: [10, 7] },
  medium: {
    matt: [10, 7],
    satin: [12, 8],
    gloss: [15, 10],
    mirror: [22, 15],
    clear: [22, 15],
    textile: [14, 10],
  },
  large: {
    matt: [18, 14],
    satin: [20, 15],
    gloss: [25, 18],
    mirror: [35, 25],
    clear: [35, 25],
    textile: [25, 18],
  },
}

function insertStartingFigures(db: Db, studio: NewStudio): void {
  db.exec(startingPace)
  db.exec('INSERT INTO plan_weights (id) VALUES (1)')
  db.exec('INSERT INTO check_limits (id) VALUES (1)')
  // Common practice, no published source: a friendly word after a week, then every two weeks.
  db.exec('INSERT INTO reminder_level VALUES (1, 7, 7, 0, 0), (2, 21, 14, 1, 0), (3, 35, 14, 1, 1)')
  const handling = prepared<unknown[]>(db, 'INSERT INTO handling VALUES (?, ?, ?, ?)')
  for (const [size, finishes] of Object.entries(handlingMinutes)) {
    for (const [finish, [first, following]] of Object.entries(finishes)) {
      handling.run(size, finish, first * 60_000, following * 60_000)
    }
  }
  for (const list of startingPreparation) writePreparation(db, list)
  startingFinishClasses.forEach(([name, inHouse, frameMs], index) => {
    prepared<unknown[]>(
      db,
      'INSERT INTO finish_class (name, in_house, frame_ms, frame_minor_per_100, position) VALUES (?, ?, ?, 0, ?)',
    ).run(name, inHouse, frameMs, index + 1)
  })
  prepared<unknown[]>(
    db,
    `INSERT INTO tax_rate (name, category, rate_ppm, is_default) VALUES (?, ?, ?, 1)`,
  ).run(studio.taxName, studio.taxRatePpm === 0 ? 'Z' : 'S', studio.taxRatePpm)
  insertFirstBench(db)
}

function insertFirstBench(db: Db): void {
  const bench = newId(prepared<[]>(db, `INSERT INTO bench (name, position) VALUES ('Bench 1', 1)`).run())
  const opening = prepared<unknown[]>(db, 'INSERT INTO opening VALUES (?, ?, ?, ?)')
  for (const weekday of [1, 2, 3, 4, 5]) {
    opening.run(bench, weekday, 9 * 60, 12 * 60 + 30)
    opening.run(bench, weekday, 13 * 60 + 15, 17 * 60 + 30)
  }
}
