import type { Chance } from '../chance.ts'
import type { DemoClock } from '../clock.ts'
import { type CurrentJob, type JobPlan, planOfCurrent, planOfPast } from '../story/plan.ts'
import { castClients } from './clients.ts'
import { moneyJobs } from './moneyJobs.ts'
import { castProducts } from './products.ts'

/** The job that is told in full when the demo is made. */
const toldJob: CurrentJob = {
  client: 'lamps',
  title: 'Autumn lamps, loops and frame sets',
  codes: ['OS-110', 'OS-111', 'OS-112', 'OS-201', 'OS-202', 'OS-230'],
  until: 'paid',
  since: 1,
  dueIn: -12,
  told: true,
  pressed: true,
  deposit: true,
}

/** The jobs in hand: at every station of the path, some late, some held, lost or cancelled. */
const currentJobs: readonly CurrentJob[] = [
  {
    client: 'toys',
    title: 'Pull-along animals',
    codes: ['PN-12', 'PN-13'],
    until: 'enquiry',
    since: 0,
    dueIn: 32,
  },
  {
    client: 'clocks',
    title: 'Small clocks for the gift page',
    codes: ['UN-11', 'UN-12'],
    until: 'enquiry',
    since: 3,
    note: 'Wants to know whether the hands can stand at ten past ten.',
  },
  {
    client: 'ceramics',
    title: 'Breakfast range',
    codes: ['SM-01', 'SM-02', 'SM-11', 'SM-20'],
    until: 'draft',
    since: 1,
    dueIn: 28,
  },
  {
    client: 'catalogue',
    title: 'Household pages, spring',
    codes: ['MB-70011', 'MB-70012', 'MB-70013', 'MB-70014', 'MB-70020', 'MB-70021'],
    until: 'sent',
    since: 2,
    dueIn: 35,
    twists: [{ kind: 'two ways' }],
  },
  {
    client: 'bags',
    title: 'Mirador in three colours',
    codes: ['ZA-210', 'ZA-211', 'ZA-212'],
    until: 'sent',
    since: 9,
    dueIn: 12,
    priority: 'high',
    twists: [{ kind: 'second version', discountPpm: 80_000 }],
  },
  {
    client: 'kettles',
    title: 'Pans for the autumn leaflet',
    codes: ['KQ-40', 'KQ-41'],
    until: 'accepted',
    since: 2,
    dueIn: 18,
    twists: [{ kind: 'no order number' }],
  },
  {
    client: 'knitwear',
    title: 'Bobble hats',
    codes: ['FM-120', 'FM-121'],
    until: 'accepted',
    since: 1,
    promiseWorkingDays: 10,
  },
  {
    client: 'shoes',
    title: 'Dyke in four colours',
    codes: ['TH-3301', 'TH-3302', 'TH-3303', 'TH-3304', 'TH-5200'],
    until: 'samples',
    since: 1,
    dueIn: 9,
    twists: [{ kind: 'samples partly in' }],
  },
  {
    client: 'tools',
    title: 'Planes and mitre box',
    codes: ['GV-1005', 'GV-1006', 'GV-2210'],
    until: 'samples',
    since: 2,
    dueIn: 14,
    twists: [{ kind: 'by days' }],
  },
  {
    client: 'toys',
    title: 'Dolls’ house with its truck',
    codes: ['PN-55', 'PN-30'],
    until: 'samples',
    since: 6,
    dueIn: -2,
  },
  {
    client: 'perfume',
    title: 'Erster Regen, both sizes',
    codes: ['OD-50A', 'OD-30A', 'OD-50D'],
    until: 'booked',
    since: 1,
    dueIn: 8,
    isRush: true,
    priority: 'high',
    twists: [{ kind: 'bench to come', inDays: 0 }],
  },
  {
    client: 'bags',
    title: 'Rucksack and purse',
    codes: ['ZA-300', 'ZA-410'],
    until: 'booked',
    since: 1,
    dueIn: 13,
    twists: [{ kind: 'bench to come', inDays: 1 }],
  },
  {
    client: 'ceramics',
    title: 'Vases for the museum shop',
    codes: ['SM-30', 'SM-31'],
    until: 'booked',
    since: 2,
    dueIn: 11,
    twists: [{ kind: 'bench to come', inDays: 3 }],
  },
  {
    client: 'kettles',
    title: 'Hob kettles',
    codes: ['KQ-07', 'KQ-08', 'KQ-09', 'KQ-21'],
    until: 'shot',
    since: 1,
    dueIn: 4,
    twists: [{ kind: 'running' }],
    priority: 'high',
  },
  {
    client: 'clocks',
    title: 'Mantel clocks',
    codes: ['UN-04', 'UN-05', 'UN-20'],
    until: 'shot',
    since: 1,
    dueIn: 6,
  },
  {
    client: 'tools',
    title: 'Vice and tool chest',
    codes: ['GV-3111', 'GV-5008'],
    until: 'shot',
    since: 4,
    dueIn: -1,
  },
  {
    client: 'shoes',
    title: 'Polder boots',
    codes: ['TH-4110', 'TH-4111'],
    until: 'picked',
    since: 1,
    dueIn: 7,
    twists: [{ kind: 'extras' }],
  },
  {
    client: 'knitwear',
    title: 'Fisherman’s jumpers',
    codes: ['FM-801', 'FM-802', 'FM-803'],
    until: 'shown',
    since: 2,
    dueIn: 5,
  },
  {
    client: 'perfume',
    title: 'Heuboden launch',
    codes: ['OD-50B', 'OD-90C'],
    until: 'shown',
    since: 7,
    dueIn: -4,
  },
  {
    client: 'lamps',
    title: 'Knospe, second round',
    codes: ['OS-230', 'OS-201'],
    until: 'answered',
    since: 5,
    dueIn: 3,
    twists: [
      {
        kind: 'change wanted',
        cause: "client's wish",
        words: 'Please turn it once more with the switch in front.',
        again: 'And now with the switch to the left after all.',
      },
    ],
  },
  {
    client: 'catalogue',
    title: 'Kitchen pages',
    codes: ['MB-70011', 'MB-70013', 'MB-70021', 'MB-70014'],
    until: 'answered',
    since: 1,
    dueIn: 6,
  },
  {
    client: 'tools',
    title: 'Folding rule and chisels',
    codes: ['GV-3040', 'GV-4001', 'GV-1005', 'GV-2210'],
    until: 'delivered',
    since: 1,
    dueIn: 2,
    twists: [{ kind: 'in part' }],
  },
  {
    client: 'ceramics',
    title: 'Ball vase, new glaze',
    codes: ['SM-31', 'SM-30'],
    until: 'delivered',
    since: 2,
    dueIn: -3,
  },
  {
    client: 'toys',
    title: 'Towers and tops',
    codes: ['PN-02', 'PN-03', 'PN-12'],
    until: 'returned',
    since: 1,
    dueIn: 1,
  },
  {
    client: 'bags',
    title: 'Mirador, details',
    codes: ['ZA-210', 'ZA-212'],
    until: 'returned',
    since: 5,
    dueIn: -6,
    deposit: true,
  },
  { client: 'shoes', title: 'Sandals', codes: ['TH-5200'], until: 'billed', since: 3, dueIn: -5 },
  {
    client: 'clocks',
    title: 'Dome clock',
    codes: ['UN-20', 'UN-11'],
    until: 'billed',
    since: 27,
    dueIn: -45,
  },
  {
    client: 'kettles',
    title: 'Pouring kettle',
    codes: ['KQ-21', 'KQ-09'],
    until: 'billed',
    since: 34,
    dueIn: -50,
    deposit: true,
  },
  {
    client: 'knitwear',
    title: 'Hats for the almanac',
    codes: ['FM-120'],
    until: 'accepted',
    since: 5,
    twists: [{ kind: 'lost', reason: 'Went with a studio nearer by.', priceMinor: 92_00 }],
  },
  {
    client: 'catalogue',
    title: 'Garden pages',
    codes: ['MB-70020', 'MB-70012', 'MB-70014'],
    until: 'accepted',
    since: 15,
    twists: [{ kind: 'lost', reason: 'Too dear; stills instead of spins.', priceMinor: 140_00 }],
  },
  {
    client: 'perfume',
    title: 'Nachtbus, travel size',
    codes: ['OD-50D'],
    until: 'accepted',
    since: 12,
    twists: [{ kind: 'cancelled', reason: 'The flacon is not made after all.' }],
  },
  {
    client: 'lamps',
    title: 'Falter in brass',
    codes: ['OS-111', 'OS-112'],
    until: 'samples',
    since: 4,
    dueIn: 24,
    twists: [{ kind: 'hold', reason: 'The brass samples are being polished again.', forDays: 11 }],
  },
]

const seasons = [
  'Spring range',
  'Summer leaflet',
  'Autumn range',
  'Winter catalogue',
  'New colours',
  'Shop relaunch',
  'Gift page',
  'Reprint',
] as const

/** Working days from one past enquiry to the next: about two a month. */
const daysBetweenEnquiries = 10
/** The newest past enquiry lies so far back that its invoice is paid. */
const newestPast = 62
/** Working days of about two years. */
export const wholePast = 515

/**
 * All jobs of the demo: past ones, those in hand, the one that is told, and those whose money has a story.
 * @param pastDays  working days from today back to the oldest enquiry
 */
export function castJobs(clock: DemoClock, chance: Chance, pastDays: number): readonly JobPlan[] {
  const past: JobPlan[] = []
  for (let back = pastDays; back >= newestPast; back -= daysBetweenEnquiries + chance.whole(-2, 2)) {
    const client = chance.one(castClients).key
    const codes = castProducts.filter((product) => product.client === client).map(({ code }) => code)
    past.push(
      planOfPast({
        client,
        title: chance.one(seasons),
        codes: someOf(codes, chance),
        enquiredDay: clock.workingDay(-back),
        pressed: past.length % 20 === 7,
        twists: twistsOfPast(past.length),
      }),
    )
  }
  return [...past, ...[...currentJobs, toldJob, ...moneyJobs].map((job) => planOfCurrent(job, clock))]
}

/** What did not please, now and then. */
const displeased = [
  'The edges vanish against the white.',
  'The lamps mirror in it.',
  'It looks darker than the one beside it.',
  'The shoulders close up.',
] as const

function twistsOfPast(index: number): JobPlan['twists'] {
  if (index % 9 === 4) return [{ kind: 'second version', discountPpm: 50_000 }]
  const words = displeased[Math.floor(index / 5) % displeased.length]
  return [
    ...(index % 9 === 7 ? [{ kind: 'by days' } as const] : []),
    ...(index % 5 === 2 && words !== undefined ? [{ kind: 'turned again', words } as const] : []),
  ]
}

/** A stretch of the list, at least two of them where there are as many. */
function someOf(codes: readonly string[], chance: Chance): readonly string[] {
  const count = Math.min(codes.length, chance.whole(2, 6))
  const first = chance.whole(0, codes.length - count)
  return codes.slice(first, first + count)
}
