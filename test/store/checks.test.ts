import { describe, expect, it } from 'vitest'
import { breakOf, checksOf, insert, plainRow, type Row, schemaOnly } from './schema.ts'

const day = '2026-03-02'
const earlier = '2026-03-01'
const instant = '2026-03-02T08:00:00.000Z'

/** What a plain row of these tables needs beyond its required columns, because of a rule across columns. */
const needed: Readonly<Record<string, Row>> = {
  pace: { medium_max_um: 2 },
  deliverable: { frames: 24, fps_num: 25, fps_den: 1, file_type: 'mp4' },
  sample: { arrived_at: null },
  opening: { to_minute: 1 },
  booking: { job_id: 1, ends_at: '2026-03-02T09:00:00.000Z' },
  job_cost: { planned_minor: 0 },
  term_case: { let_go_reason: 'a favour' },
  tax_rate: { category: 'S' },
  job_standing: { spins: 0 },
  edge_band: { right_ppm: 1, bottom_ppm: 1 },
}

/** Rules across columns, or of a form told apart by hand: the rule as SQLite names it, and what breaks it. */
const broken: readonly (readonly [table: string, check: string, row: Row])[] = [
  ['pace', 'medium_max_um > small_max_um', { small_max_um: 5, medium_max_um: 5 }],
  ['plan_weights', 'low <= normal AND normal <= high', { low: 3, normal: 2, high: 6 }],
  ['tax_rate', "category = 'S' OR rate_ppm = 0", { category: 'Z', rate_ppm: 1 }],
  [
    'tax_rate',
    "category IN ('S', 'Z') OR ifnull(exemption_reason, '') <> ''",
    { category: 'E', rate_ppm: 0, exemption_reason: null },
  ],
  ['tax_rate', "category = 'S' OR named_rates = '[]'", { category: 'Z', named_rates: '[{}]' }],
  ['number_series', 'next >= first', { first: 2, next: 1 }],
  [
    'invoice_line',
    "allowance_minor = 0 OR ifnull(allowance_reason, '') <> ''",
    { allowance_minor: 1, allowance_reason: null },
  ],
  [
    'invoice_line',
    "charge_minor = 0 OR ifnull(charge_reason, '') <> ''",
    { charge_minor: 1, charge_reason: '' },
  ],
  [
    'tax_rate',
    'valid_to IS NULL OR valid_from IS NULL OR valid_to >= valid_from',
    { valid_from: day, valid_to: earlier },
  ],
  ['person_absence', 'to_day >= from_day', { from_day: day, to_day: earlier }],
  ['equipment_outage', 'to_day IS NULL OR to_day >= from_day', { from_day: day, to_day: earlier }],
  [
    'deliverable',
    "kind = 'loop' OR frames IS NOT NULL",
    { kind: 'stills', frames: null, fps_num: null, fps_den: null, file_type: 'jpg' },
  ],
  ['deliverable', "(kind = 'loop') = (fps_num IS NOT NULL)", { fps_num: null, fps_den: null }],
  ['deliverable', '(fps_num IS NULL) = (fps_den IS NULL)', { fps_den: null }],
  ['deliverable', "(kind = 'loop') = (file_type IN ('mp4', 'mov', 'webm'))", { file_type: 'jpg' }],
  ['price_list', 'valid_to IS NULL OR valid_to >= valid_from', { valid_from: day, valid_to: earlier }],
  ['product', "plan <> 'measured' OR swept_um IS NOT NULL", { plan: 'measured' }],
  ['rig_revision', 'smallest_centi >= widest_centi', { widest_centi: 1100, smallest_centi: 280 }],
  ['edge_band', 'right_ppm > left_ppm', { left_ppm: 5, right_ppm: 5 }],
  ['edge_band', 'bottom_ppm > top_ppm', { top_ppm: 5, bottom_ppm: 5 }],
  [
    'rig_photo',
    'taken_off_at IS NULL OR unixepoch(taken_off_at) - unixepoch(added_at) BETWEEN 0 AND 3600',
    { taken_off_at: '2026-03-02T09:00:01.000Z' },
  ],
  ['settings', '(shutter_num IS NULL) = (shutter_den IS NULL)', { shutter_num: 1 }],
  ['settings', 'crop_x_ppm + crop_width_ppm <= 1000000', { crop_x_ppm: 1 }],
  ['settings', 'crop_y_ppm + crop_height_ppm <= 1000000', { crop_y_ppm: 1 }],
  ['job', 'due_day IS NULL OR promise_working_days IS NULL', { due_day: day, promise_working_days: 5 }],
  ['job', '(hold_reason IS NULL) = (hold_until IS NULL)', { hold_reason: 'client on holiday' }],
  ['job', '(lost_reason IS NULL) = (lost_at IS NULL)', { lost_reason: 'price' }],
  ['job', '(cancelled_reason IS NULL) = (cancelled_at IS NULL)', { cancelled_reason: 'range dropped' }],
  [
    'job_standing',
    'spins = at_samples_in + at_bench + at_takes + at_pick + at_yes + at_delivery + delivered',
    { spins: 1 },
  ],
  ['shoot', '(cancelled_at IS NULL) = (cancelled_reason IS NULL)', { cancelled_at: instant }],
  ['sample', "state IN ('expected', 'missing') OR arrived_at IS NOT NULL", { state: 'in' }],
  [
    'sample',
    "(state IN ('back', 'kept', 'destroyed')) = (gone_at IS NOT NULL)",
    { state: 'back', arrived_at: instant },
  ],
  ['opening', 'to_minute > from_minute', { from_minute: 60, to_minute: 60 }],
  ['closure', 'to_day >= from_day', { from_day: day, to_day: earlier }],
  ['booking', 'ends_at > starts_at', { ends_at: instant }],
  ['booking', "kind <> 'spins' OR job_id IS NOT NULL", { job_id: null }],
  ['booking', "kind <> 'other' OR title <> ''", { kind: 'other', title: '' }],
  ['job_cost', 'planned_minor IS NOT NULL OR actual_minor IS NOT NULL', { planned_minor: null }],
  [
    'usage_right',
    'to_day IS NULL OR from_day IS NULL OR to_day >= from_day',
    { from_day: day, to_day: earlier },
  ],
  ['usage_right', '(withdrawn_at IS NULL) = (withdrawn_reason IS NULL)', { withdrawn_reason: 'typed twice' }],
  ['rig_evidence', 'approved <= answered', { answered: 1, approved: 2 }],
  ['take', "folder IS NOT NULL OR more_folders = '[]'", { more_folders: '["/card 2"]' }],
  [
    'take',
    'ended_at IS NULL OR ended_at >= started_at',
    { ended_at: '2026-03-01T08:00:00.000Z', frames_shot: 1 },
  ],
  ['take', '(ended_at IS NULL) = (frames_shot IS NULL)', { ended_at: instant }],
  ['take', 'verdict IS NULL OR ended_at IS NOT NULL', { verdict: 'keep' }],
  ['take_loop', '(in_frame IS NULL) = (out_frame IS NULL)', { in_frame: 1, out_frame: null }],
  ['take_loop', 'in_frame IS NULL OR out_frame >= in_frame', { in_frame: 3, out_frame: 2 }],
  ['take_pause', 'resumed_at IS NULL OR resumed_at >= paused_at', { resumed_at: '2026-03-01T08:00:00.000Z' }],
  ['take_frame', 'file IS NOT NULL OR folder = 0', { folder: 1 }],
  ['take_act', '(frame IS NULL) = (mark IS NULL)', { frame: 1 }],
  ['take_act', '(refusal_code IS NULL) = (refusal_sentence IS NULL)', { refusal_code: 'mark-ahead' }],
  ['answer', "(verdict = 'change') = (needs IS NOT NULL)", { verdict: 'yes', needs: 'rework' }],
  ['answer', "(verdict = 'change') = (cause IS NOT NULL)", { verdict: 'yes', cause: 'ours' }],
  ['finishing_batch', 'back_at IS NULL OR back_at >= sent_at', { back_at: '2026-03-01T08:00:00.000Z' }],
  ['delivery', '(sent_at IS NULL) = (number IS NULL)', { sent_at: instant }],
  ['delivery_file', '(bytes IS NULL) = (sha256 IS NULL)', { bytes: 1 }],
  ['quote', 'total_minor = net_minor + tax_minor', { net_minor: 1 }],
  ['quote', "state = 'draft' OR sent_at IS NOT NULL", { state: 'sent', valid_until: day }],
  ['quote', "state = 'draft' OR valid_until IS NOT NULL", { state: 'sent', sent_at: instant }],
  [
    'quote',
    "(state IN ('accepted', 'declined', 'lapsed', 'replaced')) = (decided_at IS NOT NULL)",
    { state: 'accepted', sent_at: instant, valid_until: day },
  ],
  ['quote', 'bench_p80_ms >= bench_median_ms', { bench_median_ms: 1 }],
  ['bank_line', 'used_minor = 0 OR used_minor <= amount_minor', { amount_minor: 1, used_minor: 2 }],
  ['write_off', '(amount_minor < 0) = (reverses_id IS NOT NULL)', { amount_minor: -1, reverses_id: null }],
  [
    'client_paper',
    "job_id IS NOT NULL OR kind = 'statement of account'",
    { kind: 'goods receipt', job_id: null },
  ],
  ['extra', "(state = 'proposed') = (decided_at IS NULL)", { state: 'agreed' }],
  [
    'extra',
    '(decided_at IS NULL) = (decided_day IS NULL)',
    { state: 'agreed', decided_at: instant, decided_how: 'signed' },
  ],
  [
    'extra',
    '(decided_at IS NULL) = (decided_how IS NULL)',
    { state: 'agreed', decided_at: instant, decided_day: day },
  ],
  ['term', "kind <> 'idle bench' OR within_days = 0", { kind: 'idle bench', within_days: 1 }],
  ['term_case', '(extra_id IS NULL) = (let_go_reason IS NOT NULL)', { let_go_reason: null }],
  ['reshoot', 'extra_id IS NULL OR let_go_reason IS NULL', { extra_id: 1, let_go_reason: 'a favour' }],
  ['invoice', "(state = 'issued') = (number IS NOT NULL)", { number: 'I-2026-0001' }],
  ['invoice', "(state = 'issued') = (issued_at IS NOT NULL)", { issued_at: instant }],
  [
    'invoice',
    "state = 'draft' OR (issue_day IS NOT NULL AND due_day IS NOT NULL AND seller IS NOT NULL AND buyer IS NOT NULL)",
    { state: 'issued', number: 'I-2026-0001', issued_at: instant },
  ],
  [
    'invoice',
    'due_day IS NULL OR issue_day IS NULL OR due_day >= issue_day',
    { issue_day: day, due_day: earlier },
  ],
  ['invoice', "(kind = 'credit note') = (corrects_id IS NOT NULL)", { corrects_id: 1 }],
  ['invoice', 'net_minor = lines_minor - allowance_minor + charge_minor', { lines_minor: 1 }],
  ['invoice', 'total_minor = net_minor + tax_minor', { tax_minor: 1 }],
  ['invoice', 'payable_minor = total_minor - prepaid_minor + rounding_minor', { prepaid_minor: 1 }],
]

describe('every CHECK of the schema', () => {
  const db = schemaOnly()
  // Triggers have tests of their own and would answer before the rule that is meant here.
  for (const name of db.prepare(`SELECT name FROM sqlite_schema WHERE type = 'trigger'`).pluck().all()) {
    db.exec(`DROP TRIGGER "${name}"`)
  }
  const tables = db
    .prepare(`SELECT name, sql FROM sqlite_schema WHERE type = 'table' AND sql LIKE '%STRICT%' ORDER BY name`)
    .all() as readonly { name: string; sql: string }[]
  const goodRow = ({ name, sql }: { name: string; sql: string }): Row => ({
    ...plainRow(db, name, sql),
    ...needed[name],
  })

  it.each(tables)('accepts a plain row of $name', (table) => {
    expect(() => insertAndUndo(table.name, goodRow(table))).not.toThrow()
  })

  const cases = tables.flatMap((table) =>
    checksOf(table.sql).map((check) => {
      const byHand = broken.find(
        ([name, rule]) => name === table.name && rule === check.replaceAll(/\s+/g, ' '),
      )
      return { table, check, row: byHand ? byHand[2] : breakOf(check) }
    }),
  )

  it.each(cases)('$table.name refuses a row against: $check', ({ table, check, row }) => {
    expect(row, 'no row is known that breaks this rule: add one').toBeDefined()
    expect(() => insertAndUndo(table.name, { ...goodRow(table), ...row })).toThrow(
      `CHECK constraint failed: ${check}`,
    )
  })

  function insertAndUndo(table: string, row: Row): void {
    db.exec('SAVEPOINT one')
    try {
      insert(db, table, row)
    } finally {
      db.exec('ROLLBACK TO one; RELEASE one')
    }
  }
})
