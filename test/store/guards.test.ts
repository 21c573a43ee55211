import { describe, expect, it } from 'vitest'
import type { Db } from '../../db/open.ts'
import { aStudio } from '../studio.ts'
import { insert, plainRow, type Row, schemaOnly } from './schema.ts'

const instant = '2026-03-02T08:00:00.000Z'
const later = '2026-03-02T09:00:00.000Z'

/** The schema in memory, foreign keys off, and a way to put plain rows into it. */
function rows() {
  const db = schemaOnly()
  const put = (table: string, row: Row = {}) => {
    const sql = db.prepare(`SELECT sql FROM sqlite_schema WHERE name = ?`).pluck().get(table) as string
    insert(db, table, { ...plainRow(db, table, sql), ...row })
  }
  return { db, put }
}

const sentQuote = { state: 'sent', sent_at: instant, valid_until: '2026-04-01' }
const issued = {
  state: 'issued',
  number: 'I-2026-0001',
  issue_day: '2026-03-02',
  due_day: '2026-03-16',
  seller: '{}',
  buyer: '{}',
  issued_at: instant,
}
const agreed = { state: 'agreed', decided_at: instant, decided_day: '2026-03-02', decided_how: 'by e-mail' }
const agree = `UPDATE extra SET state = 'agreed', decided_at = '${instant}', decided_day = '2026-03-02', decided_how = 'signed'`
const kept = { verdict: 'keep', ended_at: later, frames_shot: 244 }

type Put = (table: string, row?: Row) => void

/** Each trigger that refuses: what is there, what is tried, what the store says. */
const refusals: Readonly<
  Record<
    string,
    readonly [there: (put: Put, db: Db) => void, tried: string | ((put: Put) => void), says: string]
  >
> = {
  number_series_has_no_gaps: [
    (put) => put('number_series', { next: 5 }),
    'UPDATE number_series SET next = 7',
    'goes up by one',
  ],
  number_series_stays: [(put) => put('number_series'), 'DELETE FROM number_series', 'never deleted'],
  studio_keeps_its_ticket_key: [
    (put) => put('studio', { ticket_key: '1A2F' }),
    `UPDATE studio SET ticket_key = '2B3C'`,
    'keeps its mark',
  ],
  usage_right_agreed_stays: [
    (put) => put('usage_right', { agreed_at: instant }),
    `UPDATE usage_right SET media = 'print'`,
    'withdraw it',
  ],
  usage_right_agreed_is_never_deleted: [
    (put) => put('usage_right', { agreed_at: instant }),
    'DELETE FROM usage_right',
    'withdraw it',
  ],
  event_stays_as_written: [(put) => put('event'), `UPDATE event SET what = 'other'`, 'append-only'],
  event_is_never_deleted: [(put) => put('event'), 'DELETE FROM event', 'append-only'],
  product_family_of_its_client: [
    (put) => put('family', { id: 1, client_id: 2 }),
    (put) => put('product', { client_id: 1, family_id: 1 }),
    'another client',
  ],
  product_family_stays_with_its_client: [
    (put) => {
      put('family', { id: 1, client_id: 2 })
      put('product', { client_id: 1 })
    },
    'UPDATE product SET family_id = 1',
    'another client',
  ],
  rig_revision_stays_as_written: [
    (put) => put('rig_revision'),
    `UPDATE rig_revision SET lens = '85 mm'`,
    'make a new one',
  ],
  rig_revision_is_never_deleted: [(put) => put('rig_revision'), 'DELETE FROM rig_revision', 'make a new one'],
  rig_light_stays_as_written: [
    (put) => put('rig_light'),
    'UPDATE rig_light SET bearing_mdeg = 90000',
    'make a new one',
  ],
  rig_light_is_never_deleted: [(put) => put('rig_light'), 'DELETE FROM rig_light', 'make a new one'],
  rig_light_never_joins_later: [
    (put) => put('take', { rig_revision_id: 1 }),
    (put) => put('rig_light', { rig_revision_id: 1 }),
    'make a new one',
  ],
  rig_photo_stays: [
    (put) => put('rig_photo'),
    'UPDATE rig_photo SET rig_revision_id = 2',
    'stays with its revision',
  ],
  rig_photo_is_never_deleted: [(put) => put('rig_photo'), 'DELETE FROM rig_photo', 'taken off, not deleted'],
  settings_stay_as_written: [(put) => put('settings'), 'UPDATE settings SET iso = 200', 'make new ones'],
  settings_row_stays_as_written: [
    (put) => put('settings_row'),
    'UPDATE settings_row SET frames_per_turn = 36',
    'make new ones',
  ],
  settings_are_never_deleted: [(put) => put('settings'), 'DELETE FROM settings', 'make new ones'],
  settings_row_is_never_deleted: [(put) => put('settings_row'), 'DELETE FROM settings_row', 'make new ones'],
  sample_move_stays_as_written: [
    (put) => put('sample_move'),
    `UPDATE sample_move SET place = 'B2'`,
    'written down once',
  ],
  sample_move_is_never_deleted: [(put) => put('sample_move'), 'DELETE FROM sample_move', 'written down once'],
  booking_never_overlaps: [
    (put) => put('booking', { job_id: 1, ends_at: later, uid: 'a' }),
    (put) =>
      put('booking', {
        job_id: 1,
        starts_at: '2026-03-02T08:59:00.000Z',
        ends_at: '2026-03-02T10:00:00.000Z',
        uid: 'b',
      }),
    'already booked',
  ],
  booking_moves_without_overlap: [
    (put) => {
      put('booking', { job_id: 1, ends_at: later, uid: 'a' })
      put('booking', { job_id: 1, starts_at: later, ends_at: '2026-03-02T10:00:00.000Z', uid: 'b' })
    },
    `UPDATE booking SET starts_at = '2026-03-02T08:59:00.000Z' WHERE uid = 'b'`,
    'already booked',
  ],
  take_keeps_what_was_shot: [
    (put) => put('take', kept),
    'UPDATE take SET frames_shot = 200',
    'keeps what was shot',
  ],
  take_is_never_deleted: [(put) => put('take'), 'DELETE FROM take', 'never deleted'],
  take_frame_keeps_its_time: [
    (put) => put('take_frame'),
    `UPDATE take_frame SET at = '${later}'`,
    'keeps its time',
  ],
  take_frame_keeps_its_file: [
    (put) => put('take_frame', { file: 'IMG_0001.JPG' }),
    'UPDATE take_frame SET folder = 1',
    'keeps its file',
  ],
  take_frame_lies_in_its_take: [
    (put) => put('take', { id: 1, folder: '/card' }),
    (put) => put('take_frame', { take_id: 1, file: 'IMG_0001.JPG', folder: 1 }),
    'no such folder',
  ],
  take_keeps_where_its_files_lie: [
    (put) => {
      put('take', { id: 1, folder: '/card', more_folders: '["/second"]' })
      put('take_frame', { take_id: 1, file: 'IMG_0001.JPG', folder: 1 })
    },
    `UPDATE take SET more_folders = '["/third"]'`,
    'keeps where its files lie',
  ],
  take_frame_only_while_running: [
    (put) => put('take', { id: 1, ...kept }),
    (put) => put('take_frame', { take_id: 1 }),
    'the take has ended',
  ],
  take_log_stays_as_written: [
    (put) => put('take_log'),
    `UPDATE take_log SET voids = '[1]'`,
    'keeps what was shot',
  ],
  take_log_is_never_deleted: [(put) => put('take_log'), 'DELETE FROM take_log', 'keeps what was shot'],
  take_fault_keeps_its_kind: [
    (put) => put('take_fault'),
    `UPDATE take_fault SET kind = 'dust'`,
    'written down anew',
  ],
  pick_of_a_kept_take: [
    (put) => put('take', { id: 1, shoot_id: 1, ...kept, verdict: 'reject' }),
    (put) => put('pick', { take_id: 1, shoot_id: 1 }),
    'only a kept take',
  ],
  pick_stays: [(put, db) => picked(put, db), 'UPDATE pick SET start_frame = 2', 'pick anew'],
  pick_is_never_deleted: [(put, db) => picked(put, db), 'DELETE FROM pick', 'never deleted'],
  answer_stays: [(put) => put('answer'), `UPDATE answer SET words = 'no'`, 'never changed'],
  answer_is_never_deleted: [(put) => put('answer'), 'DELETE FROM answer', 'never deleted'],
  delivery_sent_stays: [
    (put) => put('delivery', { sent_at: instant, number: 'D-2026-0001' }),
    `UPDATE delivery SET number = 'D-2026-0002'`,
    'stays as it was',
  ],
  delivery_sent_is_never_deleted: [
    (put) => put('delivery', { sent_at: instant, number: 'D-2026-0001' }),
    'DELETE FROM delivery',
    'stays as it was',
  ],
  delivery_item_stays: [
    (put, db) => sentWith('delivery_item', put, db),
    'DELETE FROM delivery_item',
    'stays as it was',
  ],
  delivery_item_never_moves: [
    (put) => put('delivery_item'),
    'UPDATE delivery_item SET shoot_id = 2',
    'names what it hands over once',
  ],
  delivery_file_is_never_deleted: [
    (put, db) => sentWith('delivery_file', put, db),
    'DELETE FROM delivery_file',
    'stays as it was',
  ],
  delivery_item_of_a_sent_delivery: [
    (put) => put('delivery', { id: 1, sent_at: instant, number: 'D-2026-0001' }),
    (put) => put('delivery_item', { delivery_id: 1 }),
    'stays as it was',
  ],
  delivery_file_of_a_sent_delivery: [
    (put) => put('delivery', { id: 1, sent_at: instant, number: 'D-2026-0001' }),
    (put) => put('delivery_file', { delivery_id: 1 }),
    'stays as it was',
  ],
  delivery_file_stays: [
    (put, db) => sentWith('delivery_file', put, db),
    `UPDATE delivery_file SET name = 'b.jpg'`,
    'stays as it was',
  ],
  quote_sent_stays: [
    (put) => put('quote', sentQuote),
    'UPDATE quote SET net_minor = 1, total_minor = 1',
    'revise it',
  ],
  quote_sent_is_never_deleted: [(put) => put('quote', sentQuote), 'DELETE FROM quote', 'revise it'],
  quote_row_sent_stays: [
    (put, db) => {
      put('quote', { id: 1 })
      put('quote_row', { quote_id: 1 })
      db.exec(`UPDATE quote SET state = 'sent', sent_at = '${instant}', valid_until = '2026-04-01'`)
    },
    'UPDATE quote_row SET frames_per_turn = 36',
    'revise it',
  ],
  quote_row_sent_is_never_deleted: [
    (put, db) => {
      put('quote', { id: 1 })
      put('quote_row', { quote_id: 1 })
      db.exec(`UPDATE quote SET state = 'sent', sent_at = '${instant}', valid_until = '2026-04-01'`)
    },
    'DELETE FROM quote_row',
    'revise it',
  ],
  quote_row_never_joins_a_sent_quote: [
    (put) => put('quote', { id: 1, ...sentQuote }),
    (put) => put('quote_row', { quote_id: 1 }),
    'revise it',
  ],
  quote_line_sent_stays: [
    (put, db) => {
      put('quote', { id: 1 })
      put('quote_line', { quote_id: 1 })
      db.exec(`UPDATE quote SET state = 'sent', sent_at = '${instant}', valid_until = '2026-04-01'`)
    },
    'UPDATE quote_line SET price_minor = 1',
    'revise it',
  ],
  quote_line_sent_is_never_deleted: [
    (put, db) => {
      put('quote', { id: 1 })
      put('quote_line', { quote_id: 1 })
      db.exec(`UPDATE quote SET state = 'sent', sent_at = '${instant}', valid_until = '2026-04-01'`)
    },
    'DELETE FROM quote_line',
    'revise it',
  ],
  quote_line_never_joins_a_sent_quote: [
    (put) => put('quote', { id: 1, ...sentQuote }),
    (put) => put('quote_line', { quote_id: 1 }),
    'revise it',
  ],
  quote_line_shoot_stays: [
    (put, db) => {
      put('quote', { id: 1 })
      put('quote_line', { id: 1, quote_id: 1 })
      put('quote_line_shoot', { quote_line_id: 1 })
      db.exec(`UPDATE quote SET state = 'sent', sent_at = '${instant}', valid_until = '2026-04-01'`)
    },
    'DELETE FROM quote_line_shoot',
    'revise it',
  ],
  quote_line_shoot_never_joins_a_sent_quote: [
    (put, db) => {
      put('quote', { id: 1 })
      put('quote_line', { id: 1, quote_id: 1 })
      db.exec(`UPDATE quote SET state = 'sent', sent_at = '${instant}', valid_until = '2026-04-01'`)
    },
    (put) => put('quote_line_shoot', { quote_line_id: 1 }),
    'revise it',
  ],
  quote_line_shoot_never_moves: [
    (put) => put('quote_line_shoot'),
    'UPDATE quote_line_shoot SET shoot_id = 2',
    'written once',
  ],
  extra_decided_stays: [(put) => put('extra', agreed), `UPDATE extra SET title = 'other'`, 'propose another'],
  extra_decided_is_never_deleted: [(put) => put('extra', agreed), 'DELETE FROM extra', 'propose another'],
  extra_line_decided_is_never_deleted: [
    (put, db) => {
      put('extra', { id: 1 })
      put('extra_line', { extra_id: 1 })
      db.exec(agree)
    },
    'DELETE FROM extra_line',
    'propose another',
  ],
  extra_line_decided_stays: [
    (put, db) => {
      put('extra', { id: 1 })
      put('extra_line', { extra_id: 1 })
      db.exec(agree)
    },
    'UPDATE extra_line SET price_minor = 1',
    'propose another',
  ],
  extra_line_never_joins_a_decided_extra: [
    (put) => put('extra', { id: 1, ...agreed }),
    (put) => put('extra_line', { extra_id: 1 }),
    'propose another',
  ],
  invoice_issued_stays: [(put) => put('invoice', issued), `UPDATE invoice SET note = 'other'`, 'credit note'],
  invoice_issued_is_never_deleted: [(put) => put('invoice', issued), 'DELETE FROM invoice', 'credit note'],
  invoice_line_issued_stays: [
    (put, db) => issuedWith('invoice_line', put, db),
    'UPDATE invoice_line SET net_minor = 1',
    'credit note',
  ],
  invoice_line_issued_is_never_deleted: [
    (put, db) => issuedWith('invoice_line', put, db),
    'DELETE FROM invoice_line',
    'credit note',
  ],
  invoice_line_never_joins_an_issued_invoice: [
    (put) => put('invoice', { id: 1, ...issued }),
    (put) => put('invoice_line', { invoice_id: 1 }),
    'credit note',
  ],
  invoice_tax_issued_stays: [
    (put, db) => issuedWith('invoice_tax', put, db),
    'UPDATE invoice_tax SET tax_minor = 1',
    'credit note',
  ],
  invoice_tax_issued_is_never_deleted: [
    (put, db) => issuedWith('invoice_tax', put, db),
    'DELETE FROM invoice_tax',
    'credit note',
  ],
  invoice_tax_never_joins_an_issued_invoice: [
    (put) => put('invoice', { id: 1, ...issued }),
    (put) => put('invoice_tax', { invoice_id: 1 }),
    'credit note',
  ],
  invoice_adjustment_issued_stays: [
    (put, db) => issuedWith('invoice_adjustment', put, db),
    'UPDATE invoice_adjustment SET amount_minor = 1',
    'credit note',
  ],
  invoice_adjustment_issued_is_never_deleted: [
    (put, db) => issuedWith('invoice_adjustment', put, db),
    'DELETE FROM invoice_adjustment',
    'credit note',
  ],
  invoice_adjustment_never_joins_an_issued_invoice: [
    (put) => put('invoice', { id: 1, ...issued }),
    (put) => put('invoice_adjustment', { invoice_id: 1 }),
    'credit note',
  ],
  invoice_delivery_issued_stays: [
    (put, db) => issuedWith('invoice_delivery', put, db),
    'UPDATE invoice_delivery SET delivery_id = 2',
    'credit note',
  ],
  invoice_delivery_issued_is_never_deleted: [
    (put, db) => issuedWith('invoice_delivery', put, db),
    'DELETE FROM invoice_delivery',
    'credit note',
  ],
  invoice_delivery_never_joins_an_issued_invoice: [
    (put) => put('invoice', { id: 1, ...issued }),
    (put) => put('invoice_delivery', { invoice_id: 1 }),
    'credit note',
  ],
  invoice_deposit_issued_stays: [
    (put, db) => issuedWith('invoice_deposit', put, db),
    'UPDATE invoice_deposit SET amount_minor = 2',
    'credit note',
  ],
  invoice_deposit_issued_is_never_deleted: [
    (put, db) => issuedWith('invoice_deposit', put, db),
    'DELETE FROM invoice_deposit',
    'credit note',
  ],
  invoice_deposit_never_joins_an_issued_invoice: [
    (put) => put('invoice', { id: 1, ...issued }),
    (put) => put('invoice_deposit', { invoice_id: 1 }),
    'credit note',
  ],
  payment_stays_as_written: [(put) => put('payment'), 'UPDATE payment SET amount_minor = 2', 'opposite one'],
  payment_is_never_deleted: [(put) => put('payment'), 'DELETE FROM payment', 'opposite one'],
  payment_share_stays_as_written: [
    (put) => put('payment_share'),
    'UPDATE payment_share SET amount_minor = 2',
    'opposite one',
  ],
  payment_share_is_never_deleted: [
    (put) => put('payment_share'),
    'DELETE FROM payment_share',
    'opposite one',
  ],
  bank_line_stays_as_written: [
    (put) => put('bank_line'),
    'UPDATE bank_line SET amount_minor = 2',
    'as the bank wrote it',
  ],
  write_off_stays_as_written: [
    (put) => put('write_off'),
    'UPDATE write_off SET amount_minor = 2',
    'take it back',
  ],
  write_off_is_never_deleted: [(put) => put('write_off'), 'DELETE FROM write_off', 'take it back'],
  reminder_stays_as_sent: [(put) => put('reminder'), 'UPDATE reminder SET lump_sum_minor = 4000', 'was sent'],
  reminder_is_never_deleted: [(put) => put('reminder'), 'DELETE FROM reminder', 'was sent'],
  reminder_invoice_stays_as_sent: [
    (put) => put('reminder_invoice'),
    'UPDATE reminder_invoice SET open_minor = 2',
    'was sent',
  ],
  reminder_invoice_is_never_deleted: [
    (put) => put('reminder_invoice'),
    'DELETE FROM reminder_invoice',
    'was sent',
  ],
  quote_paper_stays: [(put) => put('quote_paper'), 'UPDATE quote_paper SET attachment_id = 2', 'went out'],
  quote_paper_is_never_deleted: [(put) => put('quote_paper'), 'DELETE FROM quote_paper', 'went out'],
  client_paper_stays: [
    (put) => put('client_paper', { job_id: 1 }),
    'UPDATE client_paper SET attachment_id = 2',
    'went out',
  ],
  client_paper_is_never_deleted: [
    (put) => put('client_paper', { job_id: 1 }),
    'DELETE FROM client_paper',
    'went out',
  ],
  invoice_paper_stays: [
    (put) => put('invoice_paper'),
    'UPDATE invoice_paper SET attachment_id = 2',
    'went out',
  ],
  invoice_ubl_stays: [(put) => put('invoice_ubl'), 'UPDATE invoice_ubl SET attachment_id = 2', 'went out'],
  invoice_ubl_is_never_deleted: [(put) => put('invoice_ubl'), 'DELETE FROM invoice_ubl', 'went out'],
  invoice_paper_is_never_deleted: [(put) => put('invoice_paper'), 'DELETE FROM invoice_paper', 'went out'],
}

function issuedWith(part: string, put: Put, db: Db): void {
  put('invoice', { id: 1 })
  put(part, { invoice_id: 1 })
  db.exec(
    `UPDATE invoice SET state = 'issued', number = 'I-2026-0001', issue_day = '2026-03-02', due_day = '2026-03-16',
       seller = '{}', buyer = '{}', issued_at = '${instant}'`,
  )
}

function sentWith(part: string, put: Put, db: Db): void {
  put('delivery', { id: 1 })
  put(part, { delivery_id: 1 })
  db.exec(`UPDATE delivery SET sent_at = '${instant}', number = 'D-2026-0001'`)
}

function picked(put: Put, db: Db): void {
  db.exec('DROP TRIGGER pick_of_a_kept_take')
  put('pick')
}

describe('every trigger that guards', () => {
  const { db: schema } = rows()
  const guards = schema
    .prepare(
      `SELECT name FROM sqlite_schema WHERE type = 'trigger' AND sql LIKE '%raise(ABORT%' ORDER BY name`,
    )
    .pluck()
    .all() as readonly string[]

  it.each(guards)('%s refuses, in words', (name) => {
    const refusal = refusals[name]
    expect(refusal, 'no case is known for this trigger: add one').toBeDefined()
    if (!refusal) return
    const [there, tried, says] = refusal
    const { db, put } = rows()
    there(put, db)
    expect(() => (typeof tried === 'string' ? db.exec(tried) : tried(put))).toThrow(says)
  })
})

/** Two rows that a partial or expression index must not hold both. */
const twins: Readonly<Record<string, readonly [table: string, first: Row, second: Row]>> = {
  one_default_tax_rate: ['tax_rate', { is_default: 1 }, { is_default: 1 }],
  one_standard_price_list: ['price_list', { is_standard: 1, name: 'a' }, { is_standard: 1, name: 'b' }],
  one_price_per_case: ['price', {}, {}],
  one_photo_once: ['rig_photo', {}, {}],
  one_main_contact: ['contact', { is_main: 1 }, { is_main: 1 }],
  one_closure_per_source: ['closure', { source_uid: 'a' }, { source_uid: 'a' }],
  one_running_take_per_spin: ['take', { number: 1 }, { number: 2 }],
  one_open_pause: ['take_pause', {}, {}],
  one_pick_per_row_and_deliverable: ['pick', {}, {}],
  one_standing_yes: ['answer', {}, {}],
  one_brief_row_per_angle: ['brief_row', { row: 1 }, { row: 2 }],
  one_quote_row_per_angle: ['quote_row', { row: 1 }, { row: 2 }],
  one_accepted_quote: [
    'quote',
    { ...sentQuote, state: 'accepted', decided_at: instant, version: 1 },
    { ...sentQuote, state: 'accepted', decided_at: instant, version: 2 },
  ],
  one_draft_quote: ['quote', { version: 1 }, { version: 2 }],
  one_draft_per_job_and_kind: ['invoice', { job_id: 1 }, { job_id: 1 }],
}

describe('every index that allows one at most', () => {
  const { db: schema } = rows()
  const indexes = schema
    .prepare(
      `SELECT name FROM sqlite_schema WHERE type = 'index' AND sql LIKE 'CREATE UNIQUE%' ORDER BY name`,
    )
    .pluck()
    .all() as readonly string[]

  it.each(indexes)('%s refuses the second', (name) => {
    const twin = twins[name]
    expect(twin, 'no pair is known for this index: add one').toBeDefined()
    if (!twin) return
    const [table, first, second] = twin
    const { db, put } = rows()
    db.exec('DROP TRIGGER pick_of_a_kept_take')
    put(table, first)
    expect(() => put(table, second)).toThrow('UNIQUE constraint failed')
    // It was this index that refused, and no other.
    db.exec(`DROP INDEX ${name}`)
    expect(() => put(table, second)).not.toThrow()
  })
})

describe('the store of a studio', () => {
  it('refuses a row that points nowhere', () => {
    const { db } = aStudio()
    expect(() => db.prepare(`INSERT INTO contact (client_id, name) VALUES (77, 'Ida Falk')`).run()).toThrow(
      'FOREIGN KEY constraint failed',
    )
  })

  it('refuses text where a number belongs', () => {
    const { db } = aStudio()
    expect(() => db.prepare(`UPDATE pace SET step_ms = 'fast'`).run()).toThrow(
      'cannot store TEXT value in INTEGER column',
    )
  })
})
