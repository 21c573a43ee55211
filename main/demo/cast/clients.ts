import type { Asks } from '../../api/types.ts'

type NewClient = Asks['clients']['add']

/** A client of the demo, as plain data. Every name is invented. */
export interface CastClient {
  /** How the other lists of the cast point at this client. */
  readonly key: string
  readonly client: Partial<NewClient['client']> & Pick<NewClient['client'], 'name' | 'trade'>
  readonly contacts: NewClient['contacts']
  /** What this client always wants, where it differs from the plain brief. */
  readonly brief?: Partial<NewClient['brief']>
  /** True where the tax is owed by the buyer, in another country of the Union. */
  readonly buyerOwesTax?: boolean
}

const person = (name: string, role: string, mail: string, isMain = false) => ({
  name,
  role,
  email: mail,
  phone: null,
  isMain,
})

const loop = (widthPx: number, heightPx: number, fpsNum = 30, fpsDen = 1) => ({
  kind: 'loop' as const,
  name: 'loop',
  frames: null,
  widthPx,
  heightPx,
  fpsNum,
  fpsDen,
  dropFrame: false,
  fileType: 'mp4' as const,
  fileCapBytes: null,
})

const set = (frames: number, sidePx: number, fileType: 'jpg' | 'webp' | 'png' | 'tif' = 'jpg') => ({
  kind: 'frame set' as const,
  name: `set${frames}`,
  frames,
  widthPx: sidePx,
  heightPx: sidePx,
  fpsNum: null,
  fpsDen: null,
  dropFrame: false,
  fileType,
  fileCapBytes: fileType === 'jpg' ? 400_000 : null,
})

const oneRow = (framesPerTurn: number, overlapFrames = 3) => [
  { viewAngleMdeg: 0, framesPerTurn, overlapFrames },
]

export const castClients: readonly CastClient[] = [
  {
    key: 'lamps',
    client: {
      name: 'Ostrowa Lamp Works',
      trade: 'table and desk lamps',
      city: 'Leipzig',
      street: 'Weberhof 12',
      postalCode: '04229',
    },
    contacts: [
      person('Ilka Drowitz', 'catalogue', 'ilka@ostrowa.example', true),
      person('Benno Hassfurt', 'accounts', 'rechnung@ostrowa.example'),
    ],
    brief: {
      rows: oneRow(244),
      deliverables: [loop(1600, 1600), set(36, 2000)],
      startPose: 'switch to the right',
    },
  },
  {
    key: 'kettles',
    client: {
      name: 'Kupferquell Kettles',
      trade: 'kettles and pans',
      city: 'Kassel',
      street: 'Am Hammerwerk 3',
      postalCode: '34125',
      orderNumberNeeded: true,
    },
    contacts: [person('Runa Seltz', 'online shop', 'shop@kupferquell.example', true)],
    brief: {
      rows: oneRow(240),
      deliverables: [set(24, 1600), loop(1920, 1080, 25)],
      startPose: 'spout to the left',
      whiteCode: 255,
    },
  },
  {
    key: 'shoes',
    client: {
      name: 'Tarnholt Shoes',
      trade: 'walking shoes',
      city: 'Zwolle',
      street: 'Leerlooierspad 21',
      postalCode: '8011 VK',
      country: 'NL',
      taxNumber: 'NL000000000B00',
    },
    contacts: [person('Joris Veldkamer', 'web team', 'joris@tarnholt.example', true)],
    brief: {
      rows: oneRow(72, 1),
      deliverables: [set(72, 1400, 'webp')],
      startPose: 'toe to the left',
      namePattern: '{code}-{frame:2}',
    },
    buyerOwesTax: true,
  },
  {
    key: 'ceramics',
    client: {
      name: 'Sellmar Ceramics',
      trade: 'bowls, cups and vases',
      city: 'Höhr',
      street: 'Tonbergweg 8',
      postalCode: '56203',
      billsMonthly: true,
    },
    contacts: [person('Gesine Arrold', 'owner', 'gesine@sellmar.example', true)],
    brief: {
      namePattern: '{code}_row{row}_{deliverable}_{frame:3}',
      rows: [...oneRow(120), { viewAngleMdeg: 30_000, framesPerTurn: 60, overlapFrames: 3 }],
      deliverables: [loop(1080, 1080), set(36, 1600)],
    },
  },
  {
    key: 'tools',
    client: {
      name: 'Grevenick Tools',
      trade: 'hand tools',
      city: 'Remscheid',
      street: 'Feilenstieg 40',
      postalCode: '42853',
      orderNumberNeeded: true,
      paymentDays: 30,
    },
    contacts: [
      person('Thilo Maschke', 'purchasing', 'einkauf@grevenick.example', true),
      person('Wanda Pruss', 'product data', 'daten@grevenick.example'),
    ],
    brief: {
      rows: oneRow(120),
      deliverables: [set(24, 2400, 'png')],
      namePattern: '{code}_{deliverable}_{frame:3}',
    },
  },
  {
    key: 'toys',
    client: {
      name: 'Pimpernut Toys',
      trade: 'wooden toys',
      city: 'Gera',
      street: 'Spielgasse 5',
      postalCode: '07545',
    },
    contacts: [person('Odette Rahn', 'marketing', 'odette@pimpernut.example', true)],
    brief: { rows: oneRow(180), deliverables: [loop(1080, 1350), set(18, 1200)] },
  },
  {
    key: 'perfume',
    client: {
      name: 'Odalwyn Perfumery',
      trade: 'perfume bottles',
      city: 'Bamberg',
      street: 'Veilchengraben 2',
      postalCode: '96049',
      filesAfterPayment: true,
    },
    contacts: [person('Salome Tervoort', 'brand manager', 'salome@odalwyn.example', true)],
    brief: { rows: oneRow(380), deliverables: [loop(2160, 2160, 60), set(72, 2400, 'tif')], whiteCode: 252 },
  },
  {
    key: 'knitwear',
    client: {
      name: 'Fjellmask Knitwear',
      trade: 'jumpers and hats',
      city: 'Kiel',
      street: 'Wollkai 17',
      postalCode: '24103',
      language: 'de',
    },
    contacts: [person('Birte Osterloh', 'online shop', 'birte@fjellmask.example', true)],
    brief: {
      rows: oneRow(120),
      deliverables: [set(36, 1800), loop(1080, 1080)],
      startPose: 'front, sleeves level',
    },
  },
  {
    key: 'bags',
    client: {
      name: 'Zandrette Bags',
      trade: 'hand bags and rucksacks',
      city: 'Offenbach',
      street: 'Sattlerplatz 9',
      postalCode: '63065',
    },
    contacts: [person('Mirko Zandrette', 'owner', 'mirko@zandrette.example', true)],
    brief: {
      rows: oneRow(144),
      deliverables: [set(48, 1800), loop(1600, 1600)],
      startPose: 'flap to the front',
    },
  },
  {
    key: 'clocks',
    client: {
      name: 'Unruhstedt Clocks',
      trade: 'table clocks',
      city: 'Furtwangen',
      street: 'Pendelweg 31',
      postalCode: '78120',
      paymentDays: 21,
    },
    contacts: [person('Hedwig Allmuth', 'catalogue', 'katalog@unruhstedt.example', true)],
    brief: {
      rows: oneRow(240),
      deliverables: [loop(1920, 1080, 25), set(36, 2000)],
      startPose: 'dial to the front, hands at ten past ten',
    },
  },
  {
    key: 'catalogue',
    client: {
      name: 'Mellbarth Catalogue House',
      trade: 'mail-order catalogue',
      city: 'Fürth',
      street: 'Bogenstrasse 77',
      postalCode: '90762',
      orderNumberNeeded: true,
      paymentDays: 30,
    },
    contacts: [
      person('Leander Voss-Imhof', 'production', 'produktion@mellbarth.example', true),
      person('Ute Kranich', 'accounts', 'buchhaltung@mellbarth.example'),
    ],
    brief: { rows: oneRow(72, 1), deliverables: [set(36, 1500)] },
  },
]
