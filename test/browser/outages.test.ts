import { afterAll, beforeAll, expect, it } from 'vitest'
import { addDays, dayOf, weekdayOf } from '../../main/trade/calendar.ts'
import { aClient, aProduct } from '../builders.ts'
import { jobDraft } from '../jobs/aJob.ts'
import { press, see } from '../path/person.ts'
import { aLight, aPlatter, aRevision } from '../rigs/builders.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

const newStudio = {
  name: 'Quarry Lane Spins',
  personName: 'Ada Winter',
  country: 'DE',
  currency: 'EUR',
  timeZone: 'Europe/Berlin',
  locale: 'en-GB',
  taxName: 'VAT',
  taxRatePpm: 190_000,
}

describeBrowser('a lamp that is out', () => {
  let open: OpenBrowser
  const made = { jobId: 0, shootId: 0, lampRig: 0, bookingId: 0 }
  const today = dayOf(new Date(), 'Europe/Berlin')
  /** Monday of next week, when the bench is open, and the Friday after it. */
  const monday = addDays(today, 8 - weekdayOf(today))
  const friday = addDays(monday, 4)

  /** Calls the studio as its pages do. */
  // biome-ignore lint/suspicious/noExplicitAny: answers of many calls.
  const ask = async (path: string, input: unknown): Promise<any> => {
    const { status, answer } = await open.page.evaluate(
      async ([name, body]) => {
        const headers = { 'content-type': 'application/json' }
        const response = await fetch(`/api/${name}`, { method: 'POST', headers, body })
        return { status: response.status, answer: await response.json() }
      },
      [path, JSON.stringify(input)] as const,
    )
    expect(status, JSON.stringify(answer)).toBe(200)
    expect(answer.error, JSON.stringify(answer)).toBeUndefined()
    return answer.result?.data
  }
  const aRig = async (name: string, lights: unknown[]) => {
    const { platterId } = await ask('platters.add', aPlatter({ name: `${name} platter` }))
    const { rigRevisionId } = await ask('rigs.add', {
      rig: { name, sizeClass: 'small', note: null },
      revision: aRevision(platterId, { lights: lights as never }),
    })
    return Number(rigRevisionId)
  }
  const goTo = (path: string) => open.page.goto(new URL(path, open.host.address).href)

  beforeAll(async () => {
    open = await openBrowser()
    await ask('start.createStudio', newStudio)
    const { equipmentId } = await ask('equipment.add', { name: 'Lamp 2', kind: 'light', count: 1 })
    made.lampRig = await aRig('Lamp rig', [aLight(45, { equipmentId }), aLight(315)])
    await aRig('Window rig', [aLight(90)])
    const { clientId } = await ask('clients.add', aClient())
    const { productId } = await ask('products.add', { clientId, product: aProduct({ name: 'Kettle' }) })
    const { jobId } = await ask('jobs.add', {
      clientId,
      job: jobDraft({ promiseWorkingDays: 3 }),
      spins: [{ productIds: [productId], name: null }],
    })
    made.jobId = jobId
    const [spin] = await ask('spins.list', { jobId })
    made.shootId = spin.id
    await ask('rigs.plan', { shootIds: [made.shootId], rigRevisionId: made.lampRig })
    const { bookingIds } = await ask('bookings.add', {
      blocks: [
        {
          benchId: 1,
          day: monday,
          fromMinute: 540,
          toMinute: 600,
          shootIds: [made.shootId],
          overruledReason: 'it comes by messenger',
        },
      ],
    })
    made.bookingId = bookingIds[0]
  })
  afterAll(() => open?.close())

  it('is asked about where it is noted, and its spins run on another rig once a person has agreed', async () => {
    const { page } = open
    await goTo('/rigs/equipment')
    await press(page, 'Note when Lamp 2 is away')
    await page.getByLabel('Last day away').fill(friday)
    await page.getByRole('link', { name: 'What would it mean?' }).click()
    await see(page, '1 spin in 1 booked block')
    await see(page, 'Only asked about, not noted yet.')
    await page.getByRole('button', { name: /^Run 1.spin of .* on Window rig$/u }).click()
    const dialog = page.getByRole('dialog')
    await dialog.getByText('Turn one spin and compare it').waitFor()
    await dialog.getByRole('table', { name: 'What differs between the two rigs' }).waitFor()
    await dialog.getByRole('button', { name: /^Plan 1.spin on Window rig$/u }).click()
    await see(page, 'No booked block falls into it.')
    const [block] = await ask('bookings.ofJob', { jobId: made.jobId })
    expect(block.rig).toBe('Window rig')
  })

  it('moves a block to after it is back, once a person has agreed', async () => {
    const { page } = open
    await ask('rigs.plan', { shootIds: [made.shootId], rigRevisionId: made.lampRig })
    await ask('samples.move', {
      sampleIds: (await ask('samples.list', { jobId: made.jobId })).map(({ id }: { id: number }) => id),
      move: 'arrive',
    })
    await page.reload()
    await page.getByRole('button', { name: /^Let the block of .* wait$/u }).click()
    await press(page, 'Move it')
    await see(page, 'No booked block falls into it.')
    const [block] = await ask('bookings.ofJob', { jobId: made.jobId })
    expect(block.day).toBe(addDays(friday, 3))
    await press(page, 'Note it as in repair')
    await see(page, 'This is noted.')
  })

  it('leaves a promise that moves with its sample, and a block before its goods that can be freed', async () => {
    const { page } = open
    const samples = (await ask('samples.list', { jobId: made.jobId })).map(({ id }: { id: number }) => id)
    await ask('samples.move', { sampleIds: samples, move: 'miss' })
    await ask('samples.agree', { sampleIds: samples, expectedDay: addDays(friday, 5) })
    await goTo('/bench/freed')
    await see(page, 'No block of the next seven days lies before its goods.')
    await goTo(`/jobs/${made.jobId}/samples`)
    await see(page, 'if the samples come as expected')
    await see(page, 'This block lies before the goods')
    await press(page, 'Take them off the bench and plan anew')
    await press(page, 'Take them off')
    await page.waitForURL(/\/bench\/plan\?spins=/u)
    expect(await ask('bookings.ofJob', { jobId: made.jobId })).toEqual([])
    await goTo(`/jobs/${made.jobId}/samples`)
    await page.getByRole('checkbox', { name: 'Choose every row on this page' }).check()
    await press(page, 'Arrived')
    await press(page, 'Take them in')
    await see(page, 'due moved from')
    expect(open.complaints).toEqual([])
  })
})
