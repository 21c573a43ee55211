import type { caller } from '../api/caller.ts'
import type { Finish, SizeClass } from '../trade/product.ts'
import { castClients } from './cast/clients.ts'
import { castBreaks, castPrices } from './cast/prices.ts'
import { castProducts } from './cast/products.ts'
import { type CastRevision, type CastRig, castEquipment, castPlatters, castRigs } from './cast/rigs.ts'
import { clockTime, type DemoClock } from './clock.ts'
import type { Story } from './play.ts'
import { setSeen } from './setSeen.ts'

export type Api = ReturnType<typeof caller>

type PersonId = Awaited<ReturnType<Api['studio']['people']>>['people'][number]['id']

/** A product as the stories need it. */
export interface DemoProduct {
  readonly productId: number
  readonly code: string
  readonly name: string
  readonly massG: number
  readonly sizeClass: SizeClass
  readonly finish: Finish
  readonly familyId: number | null
}

export interface DemoClient {
  readonly clientId: number
  readonly name: string
  readonly contactId: number
  readonly contactName: string
  readonly orderNumberNeeded: boolean
  readonly filesAfterPayment: boolean
  readonly billsMonthly: boolean
  readonly products: readonly DemoProduct[]
}

export interface DemoRig {
  readonly rigId: number
  readonly loadLimitG: number
  /** The newest revision; a story moves it on. */
  rigRevisionId: number
}

/** The studio's cast once it stands in the store. */
export interface DemoCast {
  readonly clients: ReadonlyMap<string, DemoClient>
  readonly rigs: ReadonlyMap<string, DemoRig>
  readonly benchIds: readonly number[]
  readonly personIds: readonly PersonId[]
}

/** What of a studio has to be written down before the first enquiry. */
export async function setUpStudio(api: Api, clock: DemoClock): Promise<DemoCast> {
  const personIds = await setUpHouse(api)
  await api.prices.add({
    name: 'Standard, first',
    currency: 'EUR',
    validFrom: clock.day(-760),
    validTo: clock.day(-241),
    isStandard: true,
    prices: castPrices(0.94),
    breaks: castBreaks,
  })
  await api.prices.add({
    name: 'Standard, current',
    currency: 'EUR',
    validFrom: clock.day(-240),
    validTo: null,
    isStandard: true,
    prices: castPrices(1),
    breaks: castBreaks,
  })
  await setUpEquipment(api, clock)
  const rigs = await setUpRigs(api)
  const clients = new Map<string, DemoClient>()
  const reverseCharge = await api.taxRates.add({
    name: 'Reverse charge',
    category: 'AE',
    ratePpm: 0,
    exemptionReason: 'Reverse charge: the buyer owes the tax.',
    isDefault: false,
    validFrom: null,
    validTo: null,
  })
  for (const entry of castClients) {
    clients.set(entry.key, await setUpClient(api, entry, reverseCharge.taxRateId))
  }
  const benchIds = await setUpBenches(api, clock, personIds)
  return { clients, rigs, benchIds, personIds }
}

async function setUpHouse(api: Api): Promise<readonly PersonId[]> {
  await api.studio.change({
    legalName: 'Halbkreis Spin Studio, owner Jorun Halbkreis',
    street: 'Drehscheibenweg 9',
    postalCode: '99084',
    city: 'Erfurt',
    email: 'desk@halbkreis.example',
    phone: '+49 361 000 0000',
    taxNumber: 'DE000000000',
    // No bank has a code of zeros; the check digits are right, so that every check passes.
    iban: 'DE52 0000 0000 0012 3456 78',
    quoteValidDays: 30,
    paymentDays: 14,
    depositPpm: 300_000,
    yesDays: 5,
    benchHourMinor: 58_00,
    deskHourMinor: 42_00,
    secondHourMinor: 24_00,
    halfDayMinor: 340_00,
    dayMinor: 620_00,
    minimumMinor: 180_00,
    rushPpm: 250_000,
    roundsIncluded: 1,
    terms: 'Prices are before tax. One round of changes is included. Samples travel at the client’s risk.',
  })
  await api.terms.change([
    { kind: 'cancelling', withinDays: 7, chargePpm: 300_000 },
    { kind: 'cancelling', withinDays: 2, chargePpm: 600_000 },
    { kind: 'moving late', withinDays: 2, chargePpm: 250_000 },
    { kind: 'idle bench', withinDays: 0, chargePpm: 500_000 },
  ])
  await api.studio.addPerson({ name: 'Tamme Brook', role: 'assistant', hourMinor: 24_00, turns: true })
  const { people } = await api.studio.people()
  return people.map(({ id }) => id)
}

/** A new studio has its first bench already; the second has the same hours. */
async function setUpBenches(
  api: Api,
  clock: DemoClock,
  personIds: readonly number[],
): Promise<readonly number[]> {
  const [first] = await api.benches.list()
  if (!first) throw new Error('The studio has no bench.')
  const openings = first.openings.map((opening) => ({ ...opening }))
  await api.benches.add({ name: 'Bench 2', loadLimitG: 80_000, openings })
  await api.benches.addClosure({
    benchId: null,
    fromDay: clock.day(33),
    toDay: clock.day(37),
    reason: 'Stocktaking and a new floor',
  })
  const assistant = personIds.at(-1)
  if (assistant !== undefined) {
    await api.studio.addAbsence({
      personId: assistant,
      fromDay: clock.day(19),
      toDay: clock.day(26),
      reason: 'holiday',
    })
  }
  return (await api.benches.list()).map(({ id }) => id)
}

async function setUpEquipment(api: Api, clock: DemoClock): Promise<void> {
  for (const { repairFrom, ...equipment } of castEquipment) {
    const { equipmentId } = await api.equipment.add(equipment)
    if (repairFrom === undefined) continue
    await api.equipment.addOutage({
      equipmentId,
      kind: 'repair',
      fromDay: clock.day(repairFrom),
      toDay: clock.day(repairFrom + 12),
      reason: 'tube fades after an hour',
    })
  }
}

async function setUpRigs(api: Api): Promise<ReadonlyMap<string, DemoRig>> {
  const platterIds = new Map<string, number>()
  for (const platter of castPlatters)
    platterIds.set(platter.name, (await api.platters.add(platter)).platterId)
  const rigs = new Map<string, DemoRig>()
  for (const rig of castRigs) {
    const [first] = rig.revisions
    const platterId = platterIds.get(rig.platter)
    if (!first || platterId === undefined) throw new Error(`The rig ${rig.name} stands on nothing.`)
    const { daysAgo: _, ...revision } = first
    const made = await api.rigs.add({
      rig: { name: rig.name, sizeClass: rig.sizeClass, note: rig.note },
      revision: await withLamps(api, { ...revision, platterId }),
    })
    const platter = castPlatters.find(({ name }) => name === rig.platter)
    await photographSet(api, made.rigRevisionId, revision, platter?.rimMm ?? 0)
    const loadLimitG = platter?.loadLimitG ?? 0
    rigs.set(rig.key, { rigId: made.rigId, rigRevisionId: made.rigRevisionId, loadLimitG })
  }
  return rigs
}

/** Names the piece of equipment that each lamp of a rig is, so that the bench can miss it. */
async function withLamps<R extends CastRevision>(api: Api, revision: R): Promise<R> {
  const known = new Map((await api.equipment.list()).map(({ id, name }) => [name, id]))
  return {
    ...revision,
    lights: revision.lights.map((light) => ({
      ...light,
      equipmentId: known.get(lampOf(light.kind) ?? '') ?? null,
    })),
  }
}

function lampOf(kind: string): string | undefined {
  if (kind === 'light table') return 'Light table, opal'
  return kind.includes('softbox') ? 'Flash head, 500 Ws' : undefined
}

async function photographSet(
  api: Api,
  rigRevisionId: number,
  revision: CastRevision,
  rimMm: number,
): Promise<void> {
  await api.rigPhotos.add({
    rigRevisionId,
    name: 'set.jpg',
    caption: 'Seen from behind the camera; drawn by its figures for the demo.',
    base64: (await setSeen(revision, rimMm)).toString('base64'),
  })
}

/** The later revisions of a rig, each on its day. */
export async function* rigStory(api: Api, clock: DemoClock, rig: CastRig, demo: DemoRig): Story {
  const platterId = (await api.platters.list()).find(({ name }) => name === rig.platter)?.id
  if (platterId === undefined) throw new Error(`There is no platter ${rig.platter}.`)
  for (const { daysAgo, ...revision } of rig.revisions.slice(1)) {
    yield clockTime(clock.day(-daysAgo), '08:20')
    demo.rigRevisionId = (
      await api.rigs.revise({
        rigId: demo.rigId,
        revision: await withLamps(api, { ...revision, platterId }),
      })
    ).rigRevisionId
    const { rimMm } = await api.rigs.revision({ rigRevisionId: demo.rigRevisionId })
    await photographSet(api, demo.rigRevisionId, revision, rimMm)
  }
}

async function setUpClient(
  api: Api,
  entry: (typeof castClients)[number],
  reverseChargeId: number,
): Promise<DemoClient> {
  const plain = await api.clients.plainBrief()
  const { clientId } = await api.clients.add({
    client: {
      street: null,
      postalCode: null,
      city: null,
      region: null,
      country: 'DE',
      taxNumber: null,
      currency: 'EUR',
      language: 'en',
      taxRateId: entry.buyerOwesTax ? reverseChargeId : null,
      paymentDays: null,
      orderNumberNeeded: false,
      referenceNeeded: false,
      costCentreNeeded: false,
      billsMonthly: false,
      filesAfterPayment: false,
      priceListId: null,
      note: null,
      ...entry.client,
    },
    contacts: entry.contacts,
    brief: { ...(plain as Parameters<Api['clients']['add']>[0]['brief']), ...entry.brief },
  })
  const { contacts } = await api.clients.one({ clientId })
  const contact = contacts.find(({ isMain }) => isMain)
  if (!contact) throw new Error(`${entry.client.name} has no main contact.`)
  return {
    clientId,
    name: entry.client.name,
    contactId: contact.id,
    contactName: contact.name,
    orderNumberNeeded: entry.client.orderNumberNeeded ?? false,
    filesAfterPayment: entry.client.filesAfterPayment ?? false,
    billsMonthly: entry.client.billsMonthly ?? false,
    products: await setUpProducts(api, entry.key, clientId),
  }
}

async function setUpProducts(api: Api, key: string, clientId: number): Promise<readonly DemoProduct[]> {
  const families = new Map<string, number>()
  for (const product of castProducts.filter(({ client }) => client === key)) {
    if (product.family && !families.has(product.family)) {
      const { familyId } = await api.families.add({ clientId, family: { name: product.family, note: null } })
      families.set(product.family, familyId)
    }
    const [widthMm, depthMm, heightMm] = product.sizeMm
    await api.products.add({
      clientId,
      product: {
        familyId: product.family ? (families.get(product.family) ?? null) : null,
        code: product.code,
        name: product.name,
        variant: product.variant ?? null,
        widthMm,
        depthMm,
        heightMm,
        plan: product.plan,
        sweptMm: product.sweptMm ?? null,
        massG: product.massG,
        finish: product.finish,
        gtin: null,
        valueMinor: product.valueEuro * 100,
        startPose: null,
        handlingNote: product.handling ?? null,
      },
    })
  }
  const { lines } = await api.products.list({ clientId })
  return lines.map(({ id, code, name, massG, sizeClass, finish, familyId }) => ({
    productId: id,
    code,
    name,
    massG: massG ?? 0,
    sizeClass,
    finish,
    familyId,
  }))
}
