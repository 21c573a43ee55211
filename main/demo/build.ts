import { caller } from '../api/caller.ts'
import { StudioHouse } from '../api/house.ts'
import { makeStudio } from '../api/opening.ts'
import { castJobs, wholePast } from './cast/jobs.ts'
import { castRigs } from './cast/rigs.ts'
import { chanceOf } from './chance.ts'
import { checkTakes } from './checks.ts'
import { clockTime, DemoClock, demoZone } from './clock.ts'
import { BenchDiary } from './diary.ts'
import { clearDemoFolder } from './folder.ts'
import { play, type Story } from './play.ts'
import { SettingsBook } from './settingsBook.ts'
import { rigStory, setUpStudio } from './setUp.ts'
import { takeInHolidays } from './story/holidays.ts'
import { jobStory } from './story/jobStory.ts'
import type { Stage } from './story/stage.ts'
import { Telling } from './telling.ts'

/** The studio's books begin this many working days before its first enquiry. */
const daysBeforeFirst = 15
/** Working days from today back to the oldest enquiry of a job in hand, at most. */
const longestInHand = 115
const seed = 360

/** How the demo is made where it is not made now and whole. */
export interface DemoOptions {
  /** The instant up to which it is played. */
  readonly madeAt?: Date
  /** Working days of past jobs before today; no job in hand reaches back further than `longestInHand`. */
  readonly pastDays?: number
}

/**
 * Makes the demo studio in a folder: an invented studio's two years of work, sent through the same API as a
 * person's own clicks, up to now. The same instant makes the same studio.
 * Refuses a folder that holds anything but a demo studio.
 * @param say  hears what is being made, and at the end one job told in full with the paths of its papers
 */
export async function buildDemoStudio(
  folder: string,
  say: (line: string) => void,
  { madeAt = new Date(), pastDays = wholePast }: DemoOptions = {},
): Promise<void> {
  clearDemoFolder(folder)
  const clock = new DemoClock(madeAt)
  clock.moveTo(clockTime(clock.workingDay(-Math.max(pastDays, longestInHand) - daysBeforeFirst), '08:00'))
  const house = new StudioHouse({ studioFolder: folder, demoFolder: folder, now: () => clock.now })
  makeStudio(house, folder, {
    name: 'Halbkreis Spin Studio',
    personName: 'Jorun Halbkreis',
    country: 'DE',
    currency: 'EUR',
    timeZone: demoZone,
    locale: 'en-GB',
    taxName: 'VAT 19 %',
    taxRatePpm: 190_000,
    isDemo: true,
  })
  try {
    say('Making the demo studio: two years of an invented studio’s work, sent through the program’s own API.')
    await playStudio(house, clock, pastDays, say)
  } finally {
    house.leave()?.close()
  }
}

async function playStudio(
  house: StudioHouse,
  clock: DemoClock,
  pastDays: number,
  say: (line: string) => void,
): Promise<void> {
  const { studio } = house
  if (!studio) throw new Error('The demo studio did not open.')
  // A demo whose making breaks off is made anew, so its writes need not wait for the disk one by one.
  studio.db.pragma('synchronous = OFF')
  const stage = await stageOf(house, clock)
  const { cast } = stage
  say(
    `${cast.clients.size} clients, ${[...cast.clients.values()].flatMap((c) => c.products).length} products, ${cast.rigs.size} rigs, ${cast.benchIds.length} benches.`,
  )
  const plans = castJobs(clock, chanceOf(seed), pastDays)
  await play(
    [
      ...castRigs.flatMap((rig) => {
        const demo = cast.rigs.get(rig.key)
        return demo ? [rigStory(stage.api, clock, rig, demo)] : []
      }),
      progressStory(clock, pastDays, say),
      ...plans.map((plan, index) => jobStory(stage, plan, chanceOf(seed + index + 1))),
    ],
    clock,
  )
  clock.moveTo(clock.madeAt)
  await takeInHolidays(stage.api, clock)
  await checkTakes(studio, stage.api)
  const { jobs } = await stage.api.board.jobs({})
  say(`${plans.length} jobs, ${jobs.length} of them open today. One of them in full:`)
  for (const line of stage.telling.lines) say(line)
  // Everything is on the disk before the studio counts as made.
  studio.db.pragma('synchronous = FULL')
  studio.db.pragma('wal_checkpoint(TRUNCATE)')
}

/** Says how far the work has come, half a year at a time. */
async function* progressStory(clock: DemoClock, pastDays: number, say: (line: string) => void): Story {
  for (let back = pastDays - 130; back > 0; back -= 130) {
    const day = clock.workingDay(-back)
    yield clockTime(day, '07:00')
    say(`… ${day}`)
  }
}

async function stageOf(house: StudioHouse, clock: DemoClock): Promise<Stage> {
  const { studio } = house
  if (!studio) throw new Error('The demo studio did not open.')
  const api = caller(house)
  const cast = await setUpStudio(api, clock)
  const personAt = (benchId: number) => {
    const personId = cast.personIds[cast.benchIds.indexOf(benchId)]
    if (personId === undefined) throw new Error(`Nobody works at bench ${benchId}.`)
    return personId
  }
  const { deviceId } = studio.owner
  const apis = new Map(
    cast.benchIds.map((benchId) => [benchId, caller(house, { personId: personAt(benchId), deviceId })]),
  )
  return {
    api,
    apiAt: (benchId) => apis.get(benchId) ?? api,
    personAt,
    clock,
    cast,
    diary: new BenchDiary(cast.benchIds),
    settings: new SettingsBook(api),
    telling: new Telling(studio.db, studio.folder),
  }
}
