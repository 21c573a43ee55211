import { describe, expect, it } from 'vitest'
import { findCalendarFeed } from '../../db/calendarFeed.ts'
import { openCalendar } from '../../main/api/calendar.ts'
import { scansDuring } from '../jobs/plans.ts'
import { aRig, aStoredJob } from '../rigs/builders.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { readBack } from './readBack.ts'

const monday = '2026-03-09'

/** What a calendar program reads at the address that is open. */
function read({ db, house, writing }: TestStudio) {
  const feed = findCalendarFeed(db)
  if (!feed || !house.studio) throw new Error('No calendar is open.')
  return openCalendar({ db, now: () => new Date(writing.now) }, feed.secret) ?? ''
}

/** A studio with an open calendar and a block of two spins on Monday from 09:00, after a set change of half an hour. */
async function aBooking(of: Parameters<typeof aStudio>[0] = {}, withNames = true) {
  const studio = aStudio(of)
  const { api } = studio
  const rig = await aRig(studio)
  const { jobId, shootIds } = await aStoredJob(studio, [{ name: 'vase; tall' }, { name: 'jug' }])
  await api.rigs.plan({ shootIds, rigRevisionId: rig.rigRevisionId })
  const { bookingIds } = await api.bookings.add({
    blocks: [{ benchId: 1, day: monday, fromMinute: 540, toMinute: 690, shootIds, setChangeMinutes: 30 }],
  })
  await api.calendar.open({ withNames })
  return { studio, api, jobId, shootIds, bookingId: bookingIds[0] ?? 0 }
}

describe('the calendar of the blocks', () => {
  it('holds a set change and the spins after it, with rig, bench, people and what is spun', async () => {
    const { studio } = await aBooking()
    const [change, spins] = readBack(read(studio))
    expect(change).toMatchObject({
      summary: 'Set change to Glass, small (Client of J-2026-001, J-2026-001)',
      // 09:00 in Berlin in winter is 08:00 UTC.
      start: '2026-03-09T08:00:00.000Z',
      end: '2026-03-09T08:30:00.000Z',
      location: 'Bench 1',
      sequence: 0,
      status: 'CONFIRMED',
    })
    expect(spins).toMatchObject({
      summary: 'Client of J-2026-001, J-2026-001: 2 spins',
      description: 'Rig: Glass, small, revision 1\nPeople: Mara Quist\n1. vase; tall\n2. jug',
      start: '2026-03-09T08:30:00.000Z',
      end: '2026-03-09T10:30:00.000Z',
    })
  })

  it('names neither clients nor what is spun where that is not wanted, and never a price', async () => {
    const { studio } = await aBooking({}, false)
    const text = read(studio)
    expect(text).toContain('SUMMARY:J-2026-001: 2 spins')
    expect(text).not.toMatch(/Client of|vase|jug/)
    await studio.api.calendar.chooseNames({ withNames: true })
    expect(read(studio)).toMatch(/Client of/)
  })

  it('keeps the identity of a block that is moved, and raises its sequence', async () => {
    const { studio, api, bookingId } = await aBooking()
    const before = readBack(read(studio))
    studio.setNow('2026-03-03T08:00:00.000Z')
    await api.bookings.move({ bookingId, benchId: 1, day: '2026-03-10', fromMinute: 540 })
    const after = readBack(read(studio))
    expect(after.map(({ uid }) => uid)).toEqual(before.map(({ uid }) => uid))
    expect(after.map(({ sequence }) => sequence)).toEqual([1, 1])
    expect(after.map(({ start }) => start)).toEqual(['2026-03-10T08:00:00.000Z', '2026-03-10T08:30:00.000Z'])
    expect(read(studio)).toMatch(/DTSTAMP:20260303T080000Z\r\nLAST-MODIFIED:20260303T080000Z/)
  })

  it('says of a cancelled block that it is cancelled, for a month, and then leaves it out', async () => {
    const { studio, api, bookingId } = await aBooking()
    await api.bookings.cancel({ bookingId })
    const gone = readBack(read(studio))
    expect(gone.map(({ status, sequence }) => [status, sequence])).toEqual([
      ['CANCELLED', 1],
      ['CANCELLED', 1],
    ])
    studio.setNow('2026-04-01T08:00:00.000Z')
    expect(readBack(read(studio))).toHaveLength(2)
    studio.setNow('2026-04-02T08:00:00.000Z')
    expect(readBack(read(studio))).toHaveLength(0)
  })

  it('tells of the blocks that were freed with a cancelled job', async () => {
    const { studio, api, jobId } = await aBooking()
    await api.jobs.cancel({ jobId, reason: 'The range is dropped.' })
    expect(readBack(read(studio)).map(({ status }) => status)).toEqual(['CANCELLED', 'CANCELLED'])
  })

  it('keeps the blocks of the last month and drops older ones', async () => {
    const { studio } = await aBooking()
    studio.setNow('2026-04-08T08:00:00.000Z')
    expect(readBack(read(studio))).toHaveLength(2)
    studio.setNow('2026-04-09T08:00:00.000Z')
    expect(readBack(read(studio))).toHaveLength(0)
  })

  it('says the same while nothing changes, whatever the time of day', async () => {
    const { studio } = await aBooking()
    const before = read(studio)
    studio.setNow('2026-03-02T20:00:00.000Z')
    expect(read(studio)).toBe(before)
  })

  // The days on which the clocks change, by the IANA time-zone database: Berlin 2026-03-29 (01:00Z) and 2026-10-25
  // (01:00Z), New York 2026-03-08 (07:00Z) and 2026-11-01 (06:00Z), Lord Howe 2026-10-04 (by half an hour, 3 Oct 15:30Z).
  it.each([
    ['Europe/Berlin', '2026-03-29', '2026-03-29T00:00:00.000Z', '2026-03-29T02:00:00.000Z'],
    ['Europe/Berlin', '2026-10-25', '2026-10-24T23:00:00.000Z', '2026-10-25T03:00:00.000Z'],
    ['America/New_York', '2026-03-08', '2026-03-08T06:00:00.000Z', '2026-03-08T08:00:00.000Z'],
    ['America/New_York', '2026-11-01', '2026-11-01T05:00:00.000Z', '2026-11-01T09:00:00.000Z'],
    ['Australia/Lord_Howe', '2026-10-04', '2026-10-03T14:30:00.000Z', '2026-10-03T17:00:00.000Z'],
  ])('holds a block from 01:00 to 04:00 in %s on %s by its instants', async (timeZone, day, start, end) => {
    const studio = aStudio({ timeZone })
    const { benchId } = await studio.api.benches.add({
      name: 'Night bench',
      openings: [{ weekday: 7, fromMinute: 0, toMinute: 360 }],
    })
    await studio.api.bookings.add({
      blocks: [{ benchId, kind: 'other', title: 'cleaning', day, fromMinute: 60, toMinute: 240 }],
    })
    await studio.api.calendar.open({})
    expect(readBack(read(studio))).toMatchObject([{ summary: 'cleaning', start, end }])
    const { text, blocks } = await studio.api.calendar.file({ fromDay: day, toDay: day })
    expect(blocks).toBe(1)
    expect(readBack(text)).toMatchObject([{ start, end }])
  })

  it('is found by indexes, however many blocks there are', async () => {
    const studio = aStudio()
    await studio.api.calendar.open({})
    const scans = await scansDuring(studio.db, async () => read(studio))
    // The address itself is a table of one row.
    expect(scans.filter((scan) => !scan.startsWith('SCAN calendar_feed'))).toEqual([])
  })
})

describe('the calendar file', () => {
  it('holds the days asked for, of one bench or of all, without what was cancelled', async () => {
    const { studio, api, bookingId } = await aBooking()
    const { benchId } = await api.benches.add({
      name: 'Second',
      openings: [{ weekday: 1, fromMinute: 540, toMinute: 720 }],
    })
    await api.bookings.add({
      blocks: [{ benchId, kind: 'other', title: 'wiring', day: monday, fromMinute: 690, toMinute: 720 }],
    })
    const of = async (ask: Parameters<typeof api.calendar.file>[0]) =>
      readBack((await api.calendar.file(ask)).text).map(({ summary }) => summary)
    const days = { fromDay: monday, toDay: monday }
    expect(await of(days)).toHaveLength(3)
    expect(await of({ ...days, benchId })).toEqual(['wiring'])
    expect(await of({ fromDay: '2026-03-10', toDay: '2026-03-31' })).toEqual([])
    await api.bookings.cancel({ bookingId })
    expect(await of(days)).toEqual(['wiring'])
    expect((await api.calendar.file({ ...days, benchId })).fileName).toBe(
      'Second 2026-03-09 to 2026-03-09.ics',
    )
    expect(studio.db.prepare('SELECT count(*) FROM booking').pluck().get()).toBe(3)
  })

  it('refuses days in the wrong order and more than ten years', async () => {
    const { api } = aStudio()
    const ask = (fromDay: string, toDay: string) => api.calendar.file({ fromDay, toDay })
    await expect(ask('2026-03-10', '2026-03-09')).rejects.toThrow('The last day is before the first.')
    await expect(ask('2026-01-01', '2046-01-01')).rejects.toThrow('ten years at most')
  })
})

describe('the address', () => {
  it('is closed until it is asked for, and again when it is switched off', async () => {
    const { api } = aStudio()
    expect(await api.calendar.feed()).toBeNull()
    await api.calendar.open({})
    expect(await api.calendar.feed()).toMatchObject({ withNames: false, address: null })
    await api.calendar.close()
    expect(await api.calendar.feed()).toBeNull()
  })

  it('has a new secret of 256 bits each time, and the log holds none of them', async () => {
    const { api, db } = aStudio()
    await api.calendar.open({})
    const first = findCalendarFeed(db)?.secret ?? ''
    await api.calendar.open({})
    const second = findCalendarFeed(db)?.secret ?? ''
    // 256 bits in base64url are 43 characters (RFC 4648, section 5, without padding).
    expect(first).toMatch(/^[\w-]{43}$/u)
    expect(second).not.toBe(first)
    const log = JSON.stringify(db.prepare('SELECT * FROM event').all())
    expect(log).toContain('calendar address renewed')
    expect(log).not.toContain(first)
    expect(log).not.toContain(second)
  })
})
