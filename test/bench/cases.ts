import type { Written } from './generate.ts'
import type { Call } from './house.ts'

/** What a screen asks for at once. `calls` gives the calls of the n-th time, each time about other rows. */
export interface ReadCase {
  readonly name: string
  /** What the API's median may be: a screen's, unless said otherwise; null where no budget holds. */
  readonly budgetMs?: number | null
  calls(time: number): readonly Call[]
}

const steady = (name: string, ...calls: readonly Call[]): ReadCase => ({ name, calls: () => calls })

/** What all pages of a job ask, together. */
const jobPagePaths = [
  'jobs.one',
  'jobs.brief',
  'spins.list',
  'samples.list',
  'quotes.ofJob',
  'bookings.ofJob',
  'rigs.planned',
  'takes.ofJob',
  'answers.ofJob',
  'deliveries.ofJob',
  'invoices.ofJob',
  'extras.ofJob',
  'jobCosts.ofJob',
  'usageRights.ofJob',
  'jobs.history',
]

const quoteInput = {
  rows: [{ viewAngleMdeg: 0, framesPerTurn: 244, overlapFrames: 3 }],
  discountPpm: 0,
  isRush: false,
  depositPpm: 300_000,
  taxRateId: 1,
  byHand: null,
}

/** Screens and what they read, at ids spread over the whole studio. */
export function readCases({
  openJobIds,
  paidJobIds,
  draftJobIds,
  runningTakeId,
  checkedTakeIds,
}: Written): readonly ReadCase[] {
  const of = (ids: readonly number[], time: number) => ids[(time * 37) % ids.length] ?? 0
  const station = (name: string, path: string, ids = openJobIds): ReadCase => ({
    name: `Job page: ${name}`,
    calls: (time) => [{ path, input: { jobId: of(ids, time) } }],
  })
  const words = ['C123-00', 'lamps 12', 'J-2025-04', 'Client 33', 'Order 77', 'I-2025-01']
  const search: ReadCase = {
    name: 'Search, six ways of typing',
    calls: (time) => [{ path: 'search.find', input: { text: words[time % words.length] ?? '' } }],
  }
  return [
    steady('Board, 400 open jobs', { path: 'board.jobs', input: {} }, { path: 'board.choices' }),
    steady('Jobs, open, by due day', { path: 'jobs.list', input: {} }),
    steady('Jobs, all 10,000, by value', {
      path: 'jobs.list',
      input: { openOnly: false, order: 'value', descending: true },
    }),
    search,
    station('frame', 'jobs.one'),
    station('brief', 'jobs.brief'),
    station('spins', 'spins.list'),
    station('samples', 'samples.list'),
    station('quote', 'quotes.ofJob'),
    station('rig plan', 'rigs.planned'),
    station('takes', 'takes.ofJob', paidJobIds),
    station('client’s yes', 'answers.ofJob', paidJobIds),
    station('delivery', 'deliveries.ofJob', paidJobIds),
    station('invoice', 'invoices.ofJob', paidJobIds),
    station('extras', 'extras.ofJob', paidJobIds),
    station('history', 'jobs.history', paidJobIds),
    {
      name: 'Job page: quote preview',
      calls: (time) => {
        const jobId = of(draftJobIds, time)
        return [
          { path: 'quotes.basis', input: { jobId } },
          { path: 'quotes.preview', input: { jobId, input: quoteInput } },
        ]
      },
    },
    {
      name: 'Job page: all its stations at once',
      // No single screen asks for all of it.
      budgetMs: null,
      calls: (time) => {
        const jobId = of(paidJobIds, time)
        return jobPagePaths.map((path) => ({ path, input: { jobId } }))
      },
    },
    steady('Running take', { path: 'takes.one', input: { takeId: runningTakeId } }),
    {
      name: 'Take’s check: its report of 310 frames, findings, strip',
      calls: (time) => [
        { path: 'takeCheck.report', input: { takeId: of(checkedTakeIds, time) } },
        { path: 'takeCheck.status', input: { takeId: of(checkedTakeIds, time) } },
      ],
    },
    steady('Takes running', { path: 'takes.running' }),
    station('bookings', 'bookings.ofJob'),
    steady('Bench plan of a week', { path: 'benches.plan', input: { firstDay: '2025-07-01', days: 7 } }),
    steady('What a plan of the bench could hold', { path: 'plans.choices', input: {} }),
    {
      name: 'By when a quote could be done: its form',
      calls: (time) => [{ path: 'quotePlans.start', input: { jobId: of(draftJobIds, time) } }],
    },
    // A page as the screen asks for it.
    steady('Spins waiting for a bench', {
      path: 'benches.waiting',
      input: { page: { offset: 0, limit: 20 } },
    }),
    {
      ...steady('What if a platter is out for a week', {
        path: 'outages.effects',
        input: { thing: { kind: 'platter', id: 1 }, fromDay: '2025-07-01', toDay: '2025-07-08' },
      }),
      // A question asked now and then: every block it touches looks for room on its own, and for other rigs.
      budgetMs: 150,
    },
    station('promise', 'samples.promise'),
    steady('Blocks before their goods', { path: 'samples.freed', input: {} }),
    steady('Clients, by open jobs', { path: 'clients.list', input: { order: 'openJobs' } }),
    steady('Products, by code', { path: 'products.list', input: {} }),
    steady('Rig: what worked', { path: 'rigEvidence.ofRig', input: { rigId: 1 } }),
    {
      name: 'Which rig for a product',
      calls: (time) => [{ path: 'rigEvidence.forProduct', input: { productId: 1 + ((time * 37) % 9_000) } }],
    },
    station('same as last time', 'lastTime.ofJob'),
    steady('Rig: approved on it', {
      path: 'rigEvidence.approved',
      input: { rigId: 1, page: { offset: 0, limit: 12 } },
    }),
    steady('Rigs', { path: 'rigs.list', input: {} }),
    steady('Rig: settings dialled on it', { path: 'settings.onRig', input: { rigId: 1 } }),
    steady('Rigs compared', { path: 'rigs.compare', input: { before: 1, after: 2 } }),
    steady('Shelf', { path: 'samples.shelf', input: {} }),
    steady('Sales and purchases of a quarter', { path: 'jobCosts.quarter', input: {} }),
    steady('Rights that end soon', { path: 'usageRights.ending', input: {} }),
    steady('Invoices by the month', { path: 'invoices.months', input: { month: '2026-03' } }),
    steady('Unpaid reshoots', { path: 'extras.unpaidReshoots' }),
    steady('Invoices, open', { path: 'invoices.list', input: {} }),
    steady(
      'Invoices, by age',
      { path: 'accounts.ageing' },
      { path: 'invoices.list', input: { age: 'over 90' } },
    ),
    steady('Reminders', { path: 'reminders.today' }, { path: 'reminders.levels' }),
    steady('Bank statements', { path: 'bank.lines', input: {} }, { path: 'bank.statements' }),
    steady('Accountant, a quarter', {
      path: 'accountant.period',
      input: { fromDay: '2026-01-01', toDay: '2026-03-31' },
    }),
    steady(
      'Client account',
      { path: 'accounts.ofClient', input: { clientId: 1 } },
      {
        path: 'accounts.statement',
        input: { clientId: 1, currency: 'EUR', fromDay: '2026-01-01', toDay: '2026-12-31' },
      },
    ),
    steady('Invoices, all', { path: 'invoices.list', input: { filter: 'all', order: 'number' } }),
    steady('Quotes, open', { path: 'quotes.list', input: {} }),
    steady('Quotes, won and lost by price', { path: 'quotes.outcomes' }),
    steady(
      'A call: prices and free bench',
      { path: 'calls.basis', input: {} },
      { path: 'calls.free', input: { spinMs: 3_600_000, allMs: 144_000_000 } },
    ),
    steady('Studio figures, learned pace', { path: 'pace.figures' }),
    steady('Figures: pace and faults by hour, rig and person', { path: 'figures.lessons' }),
    {
      ...steady('Takes as CSV: a part of 500', { path: 'takeExport.csvPart', input: {} }),
      // No screen's data, but a piece of long work: nothing else may wait for longer.
      budgetMs: 50,
    },
    {
      name: 'Job page: tickets read',
      calls: (time) => [{ path: 'tickets.slate', input: { shootId: 1 + ((time * 37) % 20_000) } }],
    },
  ]
}
