import type { Db } from '../../db/open.ts'

/** One screen of the program: what it is called here, and where it is in the studio that was made for it. */
export interface Screen {
  readonly name: string
  readonly path: (db: Db) => string
}

/** The pages of a job, by their addresses. */
const jobPages = [
  'brief',
  'spins',
  'quote',
  'samples',
  'bench',
  'takes',
  'yes',
  'delivery',
  'extras',
  'invoice',
  'costs',
  'history',
  'change',
]

/** Stations at which a job's pages hold something else each. */
const stations = ['enquiry', 'takes', 'yes', 'paid']

const studioSections = [
  'name',
  'money',
  'terms',
  'tax',
  'times',
  'finishing',
  'preparation',
  'prices',
  'prices/new',
  'people',
  'benches',
  'benches/holidays',
  'planning',
  'check',
  'numbers',
  'backup',
]

type Finding = (db: Db) => string

const one =
  (sql: string): Finding =>
  (db) =>
    String(db.prepare(sql).pluck().get())
const first = (table: string) => one(`SELECT min(id) FROM ${table}`)
const last = (table: string, where: string) => one(`SELECT max(id) FROM ${table} WHERE ${where}`)
const lastJobAt = (station: string) =>
  one(`SELECT max(job_id) FROM job_standing WHERE station = '${station}'`)

/** An address, whose `*` is an id of what the studio holds. */
function at(pattern: string, name = pattern, id: Finding = () => ''): Screen {
  return { name, path: (db) => `/${pattern.replace('*', id(db))}` }
}

/** Every screen there is. */
export const screens: readonly Screen[] = [
  at('board', 'the board'),
  at('board?as=list', 'the board as a list'),
  at('board?late=yes', 'the board of what is late'),
  at('jobs', 'all jobs'),
  at('jobs/new', 'a new job'),
  at('jobs/new?client=*', 'a new job for a client', first('client')),
  ...stations.flatMap((station) =>
    jobPages.map((page) => at(`jobs/*/${page}`, `${page} of a job at ${station}`, lastJobAt(station))),
  ),
  at('jobs/*/quote/when', 'by when a quote could be done', lastJobAt('enquiry')),
  at('shelf', 'the shelf'),
  at('quotes', 'all quotes'),
  at('quotes?which=lost', 'quotes that were not taken'),
  at('call', 'a call'),
  at('planner', 'the planner'),
  at('planner?rows=2&parted=yes&frames2=122&row=2', 'the planner with rows of their own'),
  at('planner?job=*', 'the planner for a job', lastJobAt('enquiry')),
  at('figures', 'the figures'),
  at('clients', 'all clients'),
  at('invoices/quarter', 'sales and purchases of a quarter'),
  at('clients/rights', 'rights that end'),
  at('clients/new', 'a new client'),
  at('clients/*', 'a client', first('client')),
  at('clients/*/change', 'a client’s form', first('client')),
  at('products', 'all products'),
  at('products/new', 'a new product'),
  at('products/import?client=*', 'taking in a product list', first('client')),
  at('products/*', 'a product', first('product')),
  at('products/*/change', 'a product’s form', first('product')),
  at('rigs', 'all rigs'),
  at('rigs/new', 'a new rig'),
  at('rigs/platters', 'the platters'),
  at('rigs/equipment', 'the equipment'),
  at('rigs/compare?before=1&after=2', 'two rigs compared'),
  at('rigs/*', 'a rig', first('rig')),
  at('rigs/*/revise', 'a rig’s next revision', first('rig')),
  at('bench', 'the benches’ week'),
  at('bench?view=day', 'the benches’ day'),
  at('bench/plan', 'the search for a plan'),
  at('bench/freed', 'blocks before their goods'),
  at('bench/out', 'what is out, before it is chosen'),
  at(
    'bench/out?what=equipment-*',
    'what it means that a lamp is out',
    one('SELECT equipment_id FROM rig_equipment GROUP BY equipment_id ORDER BY count(*) DESC'),
  ),
  at('bench/calendar', 'the benches for a calendar'),
  at('bench/cards', 'the takes found on cards'),
  at('bench/1/*', 'the sheet of a bench’s day', one('SELECT substr(max(starts_at), 1, 10) FROM booking')),
  at('takes/of/*', 'what comes before a take', last('shoot', 'cancelled_at IS NULL')),
  at('takes/of/*?aid=centre', 'centring before a take', last('shoot', 'cancelled_at IS NULL')),
  at('takes/of/*?aid=match', 'matching last time before a take', last('shoot', 'cancelled_at IS NULL')),
  at('takes/of/*?aid=white', 'the white test before a take', last('shoot', 'cancelled_at IS NULL')),
  at('takes/*', 'a take that runs', last('take', 'ended_at IS NULL')),
  at('takes/*', 'a take that was kept', last('take', "verdict = 'keep'")),
  at('takes/*/check', 'the check of a take that runs', last('take', 'ended_at IS NULL')),
  at('takes/*/check', 'the check of a take that was read', one('SELECT max(take_id) FROM take_check')),
  at('slate/*', 'the slate of a spin', first('shoot')),
  at('invoices', 'all invoices'),
  at('invoices/bank', 'lines of bank statements'),
  at('invoices/bank/take', 'taking a bank statement in'),
  at('invoices/reminders', 'reminders'),
  at('invoices/accountant', 'what the accountant needs'),
  at('invoices/accounts/*', 'a client’s account', last('client', 'true')),
  at('invoices/months'),
  at('invoices/*', 'an issued invoice', last('invoice', "kind = 'invoice'")),
  at('invoices/*', 'an issued deposit', last('invoice', "kind = 'deposit'")),
  ...studioSections.map((section) => at(`studio/${section}`)),
  at('studio/prices/*', 'a price list', first('price_list')),
  at('no-such-place', 'an address that is none'),
]
