import type { CurrentJob } from '../story/plan.ts'

/** Jobs that are delivered and billed, for what can follow an invoice. */
export const moneyJobs: readonly CurrentJob[] = [
  {
    client: 'clocks',
    title: 'Clocks for the spring window',
    codes: ['UN-11', 'UN-12'],
    until: 'billed',
    since: 64,
    dueIn: -100,
    twists: [{ kind: 'reminded' }],
  },
  {
    client: 'bags',
    title: 'Purse, all sides',
    codes: ['ZA-410', 'ZA-300'],
    until: 'billed',
    since: 86,
    dueIn: -130,
    twists: [{ kind: 'paid in part', sharePpm: 400_000 }, { kind: 'reminded' }],
  },
  {
    client: 'tools',
    title: 'Vice, both jaws',
    codes: ['GV-3111', 'GV-1006'],
    until: 'billed',
    since: 42,
    dueIn: -65,
    twists: [
      { kind: 'paid in part', sharePpm: 950_000 },
      { kind: 'written off', reason: 'Agreed on the telephone: one loop came a day late.' },
    ],
  },
  {
    client: 'toys',
    title: 'Spinning tops',
    codes: ['PN-02', 'PN-12'],
    until: 'billed',
    since: 12,
    dueIn: -20,
    twists: [{ kind: 'paid too much', byMinor: 50_00 }],
  },
  // Both go out on one day, and so stand on one invoice of the month.
  {
    client: 'ceramics',
    title: 'Bowls in two glazes',
    codes: ['SM-01', 'SM-02'],
    until: 'billed',
    since: 30,
    dueIn: -45,
  },
  {
    client: 'ceramics',
    title: 'Egg cup and mug',
    codes: ['SM-11', 'SM-20'],
    until: 'billed',
    since: 30,
    dueIn: -45,
  },
]
