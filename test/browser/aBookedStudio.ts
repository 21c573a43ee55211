import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { caller } from '../../main/api/caller.ts'
import { StudioHouse } from '../../main/api/house.ts'
import { makeStudio } from '../../main/api/opening.ts'
import { addDays, dayOf, weekdayOf } from '../../main/trade/calendar.ts'
import { aRig, aStoredJob } from '../rigs/builders.ts'

const timeZone = 'Europe/Berlin'

/** A studio with blocks on the Monday to come. */
export interface BookedStudio {
  readonly folder: string
  readonly monday: string
  /** By the names of their spins. */
  readonly bookingIds: Readonly<Record<'vase' | 'jug' | 'boot' | 'floor', number>>
}

/**
 * Makes a studio with two benches, open from 09:00 to 12:30 and from 13:15 to 17:30, and on the first of them, on the Monday
 * to come: a vase from 09:00, a jug from 10:00, each an hour and without a rig; boots on the rig Shoes to 12:30,
 * with its set change; and from 15:00 to 16:00 a fixed block. The jug's job is due that day.
 */
export async function aBookedStudio(): Promise<BookedStudio> {
  const folder = join(mkdtempSync(join(tmpdir(), 'turnsheet-drag-')), 'studio')
  const house = new StudioHouse({ studioFolder: folder, demoFolder: `${folder}-demo`, now: () => new Date() })
  makeStudio(house, folder, {
    name: 'Lindenhof Spin Studio',
    personName: 'Mara Quist',
    country: 'DE',
    currency: 'EUR',
    timeZone,
    locale: 'en-GB',
    taxName: 'VAT 20 %',
    taxRatePpm: 200_000,
    isDemo: false,
  })
  const open = house.studio
  if (!open) throw new Error('The studio did not open.')
  const { db, owner } = open
  const api = caller(house)
  const studio = {
    house,
    api,
    db,
    folder,
    writing: { db, now: new Date().toISOString(), who: owner },
    setNow: () => {},
  }
  const { openings } = await api.benches.one({ benchId: 1 })
  await api.benches.add({ name: 'Bench 2', openings: [...openings] })
  const today = dayOf(new Date(), timeZone)
  const monday = addDays(today, 8 - weekdayOf(today))
  const { rigRevisionId } = await aRig(studio, 'Shoes')
  const book = async (
    block: Omit<Parameters<typeof api.bookings.add>[0]['blocks'][number], 'benchId' | 'day'>,
  ) => (await api.bookings.add({ blocks: [{ benchId: 1, day: monday, ...block }] })).bookingIds[0] ?? 0
  const spin = async (name: string, number: string) =>
    [...(await aStoredJob(studio, [{ name }], { number })).shootIds] as number[]
  const vase = await book({ shootIds: await spin('vase', 'J-0001'), fromMinute: 540, toMinute: 600 })
  const jugs = await spin('jug', 'J-0002')
  const jug = await book({ shootIds: jugs, fromMinute: 600, toMinute: 660 })
  const boots = await spin('boot', 'J-0003')
  await api.rigs.plan({ shootIds: boots, rigRevisionId })
  const [proposed] = (
    await api.bookings.propose({ benchId: 1, shootIds: boots, fromDay: monday, fromMinute: 660 })
  ).blocks
  const setChangeMinutes = (proposed?.setChangeMs ?? 0) / 60_000
  const boot = await book({ shootIds: boots, fromMinute: 660, toMinute: 750, setChangeMinutes })
  const floor = await book({
    kind: 'other',
    title: 'strip the floor',
    fromMinute: 900,
    toMinute: 960,
    isFixed: true,
  })
  db.prepare(`UPDATE job SET due_day = '9999-12-31'`).run()
  db.prepare('UPDATE job SET due_day = ? WHERE number = ?').run(monday, 'J-0002')
  db.prepare('UPDATE job_standing SET due_day = (SELECT due_day FROM job WHERE job.id = job_id)').run()
  house.leave()?.close()
  return { folder, monday, bookingIds: { vase, jug, boot, floor } }
}
