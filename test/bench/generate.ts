import { insertBrief, plainBrief } from '../../db/briefs.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { refreshStanding } from '../../db/standing.ts'
import { inOneTransaction } from '../../db/statement.ts'
import { caller } from '../../main/api/caller.ts'
import { StudioHouse } from '../../main/api/house.ts'
import { makeStudio } from '../../main/api/opening.ts'
import { castPrices } from '../../main/demo/cast/prices.ts'
import { addDays } from '../../main/trade/calendar.ts'
import { writeChecks } from './checks.ts'

/** How large a studio is written. Spins and takes are per job on average. */
export interface StudioSize {
  readonly clients: number
  readonly productsPerClient: number
  readonly jobs: number
  readonly spinsPerJob: number
  readonly takes: number
  /** The newest jobs, spread over the stations of the path; all others are paid. */
  readonly openJobs: number
}

/** The size that the issue asks to be measured. */
export const fullSize: StudioSize = {
  clients: 500,
  productsPerClient: 20,
  jobs: 10_000,
  spinsPerJob: 10,
  takes: 300_000,
  openJobs: 400,
}

/** The clock of the written studio, so that every run writes the same one. */
export const benchToday = '2026-06-15'
export const benchNow = new Date(`${benchToday}T09:00:00.000Z`)
const stamp = benchNow.toISOString()

/** What the cases ask about. */
export interface Written {
  readonly runningTakeId: number
  readonly checkedTakeIds: readonly number[]
  readonly openJobIds: readonly number[]
  readonly draftJobIds: readonly number[]
  readonly paidJobIds: readonly number[]
  readonly clientIds: readonly number[]
}

/** How far a job has come: 0 enquiry … 5 booked, 6 kept takes, 7 picked, 8 answered, 9 delivered, 10 paid. */
type Level = number
const paid: Level = 10

const rigs = 12

/** What stands before the first job. */
interface Standing {
  readonly rigRevisionIds: readonly number[]
  readonly settingsId: number
  readonly benchId: number
  readonly personId: number
  readonly deviceId: number
  readonly taxRateId: number
}

/**
 * Writes a studio of that size into an empty folder, straight by SQL (the demo is what goes through the API),
 * and works out the standing of every job from its facts, by the program's own code.
 */
export async function generateStudio(folder: string, size: StudioSize): Promise<Written> {
  const house = new StudioHouse({ studioFolder: folder, demoFolder: folder, now: () => benchNow })
  makeStudio(house, folder, {
    name: 'Measured Studio',
    personName: 'Pim Anders',
    country: 'DE',
    currency: 'EUR',
    timeZone: 'Europe/Berlin',
    locale: 'en-GB',
    taxName: 'VAT 19 %',
    taxRatePpm: 190_000,
    isDemo: false,
  })
  const open = house.studio
  if (!open) throw new Error('The studio did not open.')
  const { db } = open
  const standing = await setUp(house, db)
  // A studio whose writing breaks off is thrown away, so durability may wait until the end.
  db.pragma('synchronous = OFF')
  // One transaction writes everything; its pages stay in memory until it is done.
  db.pragma('cache_size = -1000000')
  const written = inOneTransaction(db, () => writeAll(db, size, standing))
  db.pragma('synchronous = FULL')
  db.exec('ANALYZE')
  house.leave()?.close()
  return written
}

async function setUp(house: StudioHouse, db: Db): Promise<Standing> {
  const api = caller(house)
  await api.prices.add({
    name: 'Standard',
    currency: 'EUR',
    validFrom: '2024-01-01',
    validTo: null,
    isStandard: true,
    prices: castPrices(1),
    breaks: [],
  })
  const { platterId } = await api.platters.add({
    name: 'Platter',
    rimMm: 1220,
    divisionMm: 1,
    loadLimitG: null,
  })
  const rigRevisionIds: number[] = []
  for (let rig = 1; rig <= rigs; rig += 1) {
    const { rigRevisionId } = await api.rigs.add({
      rig: { name: `Rig ${rig}`, sizeClass: 'medium' },
      revision: {
        platterId,
        backdrop: 'white',
        camera: 'camera',
        lens: '70 mm',
        focalMm: 70,
        cameraDistanceMm: 1800,
        cameraHeightMm: 250,
        why: 'measured',
        lights: [{ kind: 'softbox', bearingDeg: 45, distanceMm: 900 }],
      },
    })
    rigRevisionIds.push(rigRevisionId)
  }
  const { settingsId } = await api.settings.add({
    focusMm: null,
    apertureCenti: 1100,
    apertureHeld: 'held',
    shutterNum: null,
    shutterDen: null,
    iso: 100,
    whiteBalanceK: 5500,
    rows: [{ viewAngleDeg: 0, framesPerTurn: 244, overlapFrames: 3 }],
  })
  const one = (sql: string) => Number(db.prepare(sql).pluck().get())
  return {
    rigRevisionIds,
    settingsId,
    benchId: one('SELECT id FROM bench'),
    personId: one('SELECT id FROM person'),
    deviceId: one('SELECT id FROM device'),
    taxRateId: one('SELECT id FROM tax_rate'),
  }
}

function writeAll(db: Db, size: StudioSize, standing: Standing): Written {
  const clients = writeClients(db, size)
  const insert = inserts(db)
  const jobs: number[] = []
  const levelOf = (index: number) => (index < size.jobs - size.openJobs ? paid : index % 10)
  const withTakes = Array.from({ length: size.jobs }, (_, index) => levelOf(index)).filter((l) => l >= 6)
  const perSpin = Math.floor(size.takes / (size.jobs * size.spinsPerJob))
  // What is left to the wanted number of takes goes to the oldest spins, one more each.
  let more = size.takes - perSpin * withTakes.length * size.spinsPerJob
  for (let index = 0; index < size.jobs; index += 1) {
    const level = levelOf(index)
    const jobId = writeJob(insert, standing, clients, size, index, level, () => {
      more -= 1
      return level >= 6 ? perSpin + (more >= 0 ? 1 : 0) : 0
    })
    jobs.push(jobId)
  }
  const at = (level: Level) => jobs.filter((_, index) => levelOf(index) === level)
  const runningTakeId = startOne(db, insert, standing, need(at(5)[0]))
  for (const jobId of jobs) refreshStanding({ db }, jobId as Id<'job'>)
  return {
    runningTakeId,
    checkedTakeIds: writeChecks(db, stamp),
    openJobIds: jobs.slice(size.jobs - size.openJobs),
    draftJobIds: at(0),
    paidJobIds: at(paid),
    clientIds: clients.map(({ clientId }) => clientId),
  }
}

interface WrittenClient {
  readonly clientId: number
  readonly productIds: readonly number[]
}

const trades = [
  'lamps',
  'kettles',
  'shoes',
  'bowls',
  'planes',
  'toys',
  'flacons',
  'jumpers',
  'bags',
  'clocks',
]

function writeClients(db: Db, size: StudioSize): readonly WrittenClient[] {
  const client = into(db, 'client', 'name', 'city', 'country', 'currency', 'standing_brief_id', 'created_at')
  const product = into(
    db,
    'product',
    'client_id',
    'code',
    'name',
    'width_um',
    'depth_um',
    'height_um',
    'mass_g',
    'created_at',
  )
  return Array.from({ length: size.clients }, (_, index) => {
    const trade = trades[index % trades.length] ?? ''
    const clientId = client(
      `Client ${index} ${trade}`,
      `Town ${index % 40}`,
      'DE',
      'EUR',
      insertBrief(db, plainBrief),
      stamp,
    )
    const productIds = Array.from({ length: size.productsPerClient }, (_, item) => {
      const code = `C${String(index).padStart(3, '0')}-${String(item).padStart(4, '0')}`
      return product(clientId, code, `${trade} ${item}`, 180_000, 160_000, 240_000, 900 + item, stamp)
    })
    return { clientId, productIds }
  })
}

type Insert = (...values: readonly unknown[]) => number

function into(db: Db, table: string, ...columns: readonly string[]): Insert {
  const statement = db.prepare(
    `INSERT INTO ${table} (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
  )
  return (...values) => Number(statement.run(...values).lastInsertRowid)
}

function inserts(db: Db) {
  return {
    db,
    job: into(
      db,
      'job',
      'number',
      'client_id',
      'title',
      'brief_id',
      'currency',
      'enquired_day',
      'due_day',
      'rounds_included',
      'created_at',
    ),
    shoot: into(db, 'shoot', 'job_id', 'position', 'name', 'rig_revision_id', 'settings_id', 'estimate_ms'),
    shootProduct: into(db, 'shoot_product', 'shoot_id', 'product_id'),
    shootRow: into(db, 'shoot_row', 'shoot_id', 'row', 'frames_per_turn', 'overlap_frames'),
    sample: into(db, 'sample', 'job_id', 'product_id', 'state', 'arrived_at', 'gone_at', 'place'),
    sampleMove: into(db, 'sample_move', 'sample_id', 'at', 'state', 'person_id'),
    booking: into(
      db,
      'booking',
      'bench_id',
      'kind',
      'job_id',
      'rig_revision_id',
      'starts_at',
      'ends_at',
      'uid',
      'changed_at',
    ),
    bookingShoot: into(db, 'booking_shoot', 'booking_id', 'shoot_id', 'position'),
    take: into(
      db,
      'take',
      'shoot_id',
      'number',
      'rig_revision_id',
      'settings_id',
      'bench_id',
      'person_id',
      'device_id',
      'frames_per_turn',
      'overlap_frames',
      'started_at',
      'ended_at',
      'frames_shot',
      'median_step_ms',
      'verdict',
      'verdict_reason',
    ),
    takeLog: into(db, 'take_log', 'take_id', 'offsets_ms', 'marks', 'voids'),
    fault: into(db, 'take_fault', 'take_id', 'frame', 'kind', 'at'),
    pick: into(db, 'pick', 'shoot_id', 'row', 'deliverable_id', 'take_id', 'picked_at'),
    answer: into(db, 'answer', 'shoot_id', 'deliverable_id', 'verdict', 'answered_at'),
    delivery: into(db, 'delivery', 'job_id', 'way', 'prepared_at'),
    deliveryItem: into(db, 'delivery_item', 'delivery_id', 'shoot_id', 'deliverable_id'),
    quote: into(
      db,
      'quote',
      'job_id',
      'number',
      'version',
      'currency',
      'step_ms',
      'tax_rate_id',
      'net_minor',
      'tax_minor',
      'total_minor',
      'created_at',
    ),
    quoteRow: into(
      db,
      'quote_row',
      'quote_id',
      'row',
      'view_angle_mdeg',
      'frames_per_turn',
      'overlap_frames',
    ),
    quoteLine: into(
      db,
      'quote_line',
      'quote_id',
      'position',
      'text',
      'quantity_milli',
      'price_minor',
      'net_minor',
      'tax_rate_id',
      'kind',
      'spins',
    ),
    quoteLineShoot: into(db, 'quote_line_shoot', 'quote_line_id', 'shoot_id'),
    invoice: into(db, 'invoice', 'kind', 'client_id', 'job_id', 'currency', 'created_at'),
    invoiceLine: into(
      db,
      'invoice_line',
      'invoice_id',
      'position',
      'text',
      'quantity_milli',
      'price_minor',
      'net_minor',
      'category',
      'rate_ppm',
      'quote_line_id',
    ),
    event: into(
      db,
      'event',
      'at',
      'person_id',
      'device_id',
      'subject',
      'subject_id',
      'job_id',
      'client_id',
      'what',
      'detail',
    ),
    account: into(db, 'invoice_account', 'invoice_id', 'due_day', 'open_minor'),
    payment: into(db, 'payment', 'client_id', 'day', 'amount_minor', 'currency', 'way', 'created_at'),
    paymentShare: into(db, 'payment_share', 'payment_id', 'invoice_id', 'amount_minor'),
    deliverables: db.prepare<[number], number>('SELECT id FROM deliverable WHERE brief_id = ?').pluck(),
    sendDelivery: db.prepare('UPDATE delivery SET sent_at = ?, number = ? WHERE id = ?'),
    decideQuote: db.prepare(
      'UPDATE quote SET state = ?, sent_at = ?, decided_at = ?, valid_until = ? WHERE id = ?',
    ),
    issueInvoice: db.prepare(
      `UPDATE invoice SET state = 'issued', number = ?, issue_day = ?, due_day = ?, issued_at = ?, seller = '{}',
         buyer = '{}', lines_minor = ?, net_minor = ?, tax_minor = ?, total_minor = ?, payable_minor = ? WHERE id = ?`,
    ),
  }
}
type Inserts = ReturnType<typeof inserts>

interface JobInHand {
  readonly jobId: number
  readonly index: number
  readonly client: WrittenClient
  readonly day: string
  readonly at: string
  readonly shoots: readonly number[]
  readonly deliverables: readonly number[]
}

function writeJob(
  insert: Inserts,
  standing: Standing,
  clients: readonly WrittenClient[],
  size: StudioSize,
  index: number,
  level: Level,
  takesOfSpin: () => number,
): number {
  const client = need(clients[index % clients.length])
  // Closed jobs lie in the two years before; each ends before the next begins at the one bench.
  const day = addDays(benchToday, -730 + Math.floor((index * 720) / size.jobs))
  const dueDay = level === paid ? addDays(day, 20) : addDays(benchToday, (index % 60) - 12)
  const briefId = insertBrief(insert.db, plainBrief)
  const year = day.slice(0, 4)
  const jobId = insert.job(
    `J-${year}-${String(index + 1).padStart(5, '0')}`,
    client.clientId,
    `Order ${index} of ${trades[index % trades.length]}`,
    briefId,
    'EUR',
    day,
    dueDay,
    1,
    stamp,
  )
  const at = `${day}T10:00:00.000Z`
  const shoots = Array.from({ length: size.spinsPerJob }, (_, spin) => {
    const productId = need(client.productIds[(index * size.spinsPerJob + spin) % client.productIds.length])
    const shootId = insert.shoot(
      jobId,
      spin + 1,
      `Spin ${spin + 1}`,
      rigOf(standing, index),
      standing.settingsId,
      2_700_000,
    )
    insert.shootProduct(shootId, productId)
    insert.shootRow(shootId, 1, 244, 3)
    writeSample(insert, standing, jobId, productId, level === 3 ? (spin % 2 ? 3 : 4) : level, at)
    return shootId
  })
  const job = { jobId, index, client, day, at, shoots, deliverables: insert.deliverables.all(briefId) }
  const lineIds = writeQuote(insert, standing, job, level)
  if (level >= 5) writeBooking(insert, standing, job)
  shoots.forEach((shootId) => {
    writeTakes(insert, standing, job, shootId, takesOfSpin(), level)
  })
  if (level >= 9) writeDelivery(insert, job)
  if (level === paid) writeInvoice(insert, job, lineIds)
  for (const what of ['job added', 'quote sent', 'quote accepted', 'samples arrived', 'bench booked']) {
    tell(insert, standing, job, 'job', jobId, what)
  }
  return jobId
}

function tell(
  insert: Inserts,
  { personId, deviceId }: Standing,
  { jobId, client, at }: JobInHand,
  subject: string,
  subjectId: number,
  what: string,
): void {
  insert.event(at, personId, deviceId, subject, subjectId, jobId, client.clientId, what, '{}')
}

/** Jobs go round the rigs. */
function rigOf({ rigRevisionIds }: Standing, jobIndex: number): number {
  return need(rigRevisionIds[jobIndex % rigRevisionIds.length])
}

function writeSample(
  insert: Inserts,
  { personId }: Standing,
  jobId: number,
  productId: number,
  level: Level,
  at: string,
): void {
  const state = level < 4 ? 'expected' : level === paid ? 'back' : 'in'
  const arrived = state === 'expected' ? null : at
  const sampleId = insert.sample(
    jobId,
    productId,
    state,
    arrived,
    state === 'back' ? at : null,
    arrived && 'A1',
  )
  if (arrived) insert.sampleMove(sampleId, at, 'in', personId)
  if (state === 'back') insert.sampleMove(sampleId, at, 'back', personId)
}

const spinPriceMinor = 76_00

function writeQuote(
  insert: Inserts,
  { taxRateId }: Standing,
  { jobId, index, day, at, shoots }: JobInHand,
  level: Level,
): readonly number[] {
  const net = spinPriceMinor * shoots.length
  const tax = Math.round(net * 0.19)
  const number = `Q-${day.slice(0, 4)}-${String(index + 1).padStart(5, '0')}`
  const quoteId = insert.quote(jobId, number, 1, 'EUR', 6000, taxRateId, net, tax, net + tax, at)
  insert.quoteRow(quoteId, 1, 0, 244, 3)
  const lineId = insert.quoteLine(
    quoteId,
    1,
    'Spins, medium',
    shoots.length * 1000,
    spinPriceMinor,
    net,
    taxRateId,
    'spins',
    shoots.length,
  )
  for (const shootId of shoots) insert.quoteLineShoot(lineId, shootId)
  if (level >= 1) {
    const accepted = level >= 2
    insert.decideQuote.run(
      accepted ? 'accepted' : 'sent',
      at,
      accepted ? at : null,
      addDays(day, 30),
      quoteId,
    )
  }
  return [lineId]
}

function writeBooking(insert: Inserts, standing: Standing, { jobId, index, shoots }: JobInHand): void {
  // Blocks of one hour spread over the two years, round the clock, so that none overlaps another.
  const start = Date.parse('2024-06-15T00:00:00.000Z') + index * 6_300_000
  const bookingId = insert.booking(
    standing.benchId,
    'spins',
    jobId,
    rigOf(standing, index),
    new Date(start).toISOString(),
    new Date(start + 3_600_000).toISOString(),
    `booking-${index}`,
    new Date(start).toISOString(),
  )
  shoots.forEach((shootId, position) => {
    insert.bookingShoot(bookingId, shootId, position + 1)
  })
}

/** All takes of a spin but the last are rejected, as they are in life. */
function writeTakes(
  insert: Inserts,
  standing: Standing,
  job: JobInHand,
  shootId: number,
  takes: number,
  level: Level,
): void {
  let kept = 0
  for (let number = 1; number <= takes; number += 1) {
    const started = Date.parse(job.at) + number * 1_800_000
    const isKept = number === takes
    const takeId = insert.take(
      shootId,
      number,
      rigOf(standing, job.index),
      standing.settingsId,
      standing.benchId,
      standing.personId,
      standing.deviceId,
      244,
      3,
      new Date(started).toISOString(),
      new Date(started + 1_500_000).toISOString(),
      247,
      5_400 + ((shootId * 37 + number * 211) % 1500),
      isKept ? 'keep' : 'reject',
      isKept ? null : 'bump',
    )
    if (!isKept) insert.fault(takeId, 1 + (shootId % 240), 'bump', job.at)
    if (level < paid) insert.takeLog(takeId, steadyOffsets, '[]', '[]')
    tell(insert, standing, job, 'take', takeId, isKept ? 'take kept' : 'take rejected')
    kept = takeId
  }
  if (level < 7 || kept === 0) return
  for (const deliverableId of job.deliverables) {
    insert.pick(shootId, 1, deliverableId, kept, job.at)
    if (level >= 8) insert.answer(shootId, deliverableId, 'yes', job.at)
  }
}

const steadyOffsets = JSON.stringify(Array.from({ length: 247 }, (_, frame) => frame * 6000))

function writeDelivery(insert: Inserts, { jobId, index, day, at, shoots, deliverables }: JobInHand): void {
  const deliveryId = insert.delivery(jobId, 'drive', at)
  for (const shootId of shoots) {
    for (const deliverableId of deliverables) insert.deliveryItem(deliveryId, shootId, deliverableId)
  }
  insert.sendDelivery.run(at, `D-${day.slice(0, 4)}-${String(index + 1).padStart(5, '0')}`, deliveryId)
}

function writeInvoice(
  insert: Inserts,
  { jobId, index, client, day, at, shoots }: JobInHand,
  [lineId]: readonly number[],
): void {
  const net = spinPriceMinor * shoots.length
  const tax = Math.round(net * 0.19)
  const invoiceId = insert.invoice('invoice', client.clientId, jobId, 'EUR', at)
  insert.invoiceLine(
    invoiceId,
    1,
    'Spins, medium',
    shoots.length * 1000,
    spinPriceMinor,
    net,
    'S',
    190_000,
    need(lineId),
  )
  const number = `I-${day.slice(0, 4)}-${String(index + 1).padStart(5, '0')}`
  const dueDay = addDays(day, 14)
  insert.issueInvoice.run(number, day, dueDay, at, net, net, tax, net + tax, net + tax, invoiceId)
  // One in fifty is still open, so that the list of open invoices has rows.
  const isOpen = index % 50 === 0
  insert.account(invoiceId, dueDay, isOpen ? net + tax : 0)
  if (isOpen) return
  const paymentId = insert.payment(client.clientId, dueDay, net + tax, 'EUR', 'transfer', at)
  insert.paymentShare(paymentId, invoiceId, net + tax)
}

/** A take that runs: one spin of a booked job, with forty frames on its tape. */
function startOne(db: Db, insert: Inserts, standing: Standing, jobId: number): number {
  const shootId = Number(db.prepare('SELECT min(id) FROM shoot WHERE job_id = ?').pluck().get(jobId))
  const takeId = insert.take(
    shootId,
    1,
    rigOf(standing, 0),
    standing.settingsId,
    standing.benchId,
    standing.personId,
    standing.deviceId,
    244,
    3,
    new Date(benchNow.getTime() - 240_000).toISOString(),
    null,
    null,
    null,
    null,
    null,
  )
  const frame = into(db, 'take_frame', 'take_id', 'frame', 'at', 'mark')
  for (let n = 1; n <= 40; n += 1) {
    frame(takeId, n, new Date(benchNow.getTime() - 240_000 + n * 6000).toISOString(), n - 1)
  }
  return takeId
}

function need<T>(value: T | undefined): T {
  if (value === undefined) throw new Error('The written studio lacks what was asked for.')
  return value
}
