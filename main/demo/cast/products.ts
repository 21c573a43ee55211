import type { Finish, Plan } from '../../trade/product.ts'

/** A product of the cast: outer size in mm, mass in g, declared value in whole euros. Invented. */
export interface CastProduct {
  readonly client: string
  readonly family?: string
  readonly code: string
  readonly name: string
  readonly variant?: string
  readonly sizeMm: readonly [width: number, depth: number, height: number]
  readonly plan: Plan
  /** Twice the farthest point from the axis, where it was measured. */
  readonly sweptMm?: number
  readonly massG: number
  readonly finish: Finish
  readonly valueEuro: number
  readonly handling?: string
}

type Size = CastProduct['sizeMm']
type Line = readonly [
  code: string,
  name: string,
  size: Size,
  massG: number,
  finish: Finish,
  valueEuro: number,
]
type More = Partial<Pick<CastProduct, 'family' | 'variant' | 'sweptMm' | 'handling'>>

const of = (client: string, plan: Plan, lines: readonly (readonly [...Line, More?])[]): CastProduct[] =>
  lines.map(([code, name, sizeMm, massG, finish, valueEuro, more]) => ({
    client,
    plan,
    code,
    name,
    sizeMm,
    massG,
    finish,
    valueEuro,
    ...more,
  }))

const hot = 'Leave the bulb out: lamps get hot, and no cable lies across the platter.'
const gloves = 'Cotton gloves; every finger shows.'

export const castProducts: readonly CastProduct[] = [
  ...of('lamps', 'measured', [
    [
      'OS-110',
      'Desk lamp Falter',
      [180, 420, 465],
      1850,
      'satin',
      129,
      { family: 'Falter', variant: 'black', sweptMm: 640, handling: hot },
    ],
    [
      'OS-111',
      'Desk lamp Falter',
      [180, 420, 465],
      1850,
      'satin',
      129,
      { family: 'Falter', variant: 'sand', sweptMm: 640, handling: hot },
    ],
    [
      'OS-112',
      'Desk lamp Falter',
      [180, 420, 465],
      1850,
      'mirror',
      149,
      { family: 'Falter', variant: 'chrome', sweptMm: 640, handling: hot },
    ],
  ]),
  ...of('lamps', 'round', [
    [
      'OS-201',
      'Table lamp Morchel',
      [260, 260, 380],
      1420,
      'clear',
      98,
      { family: 'Morchel', variant: 'smoke' },
    ],
    [
      'OS-202',
      'Table lamp Morchel',
      [260, 260, 380],
      1420,
      'clear',
      98,
      { family: 'Morchel', variant: 'clear' },
    ],
    ['OS-230', 'Bedside lamp Knospe', [120, 120, 210], 640, 'matt', 54],
  ]),
  ...of('kettles', 'measured', [
    [
      'KQ-07',
      'Hob kettle, 1.5 l',
      [178, 236, 245],
      1180,
      'mirror',
      89,
      { family: 'Hob kettles', variant: 'copper', sweptMm: 268, handling: gloves },
    ],
    [
      'KQ-08',
      'Hob kettle, 1.5 l',
      [178, 236, 245],
      1120,
      'mirror',
      79,
      { family: 'Hob kettles', variant: 'steel', sweptMm: 268, handling: gloves },
    ],
    [
      'KQ-09',
      'Hob kettle, 1.5 l',
      [178, 236, 245],
      1240,
      'gloss',
      84,
      { family: 'Hob kettles', variant: 'enamel, blue', sweptMm: 268 },
    ],
    ['KQ-21', 'Pouring kettle, 0.9 l', [135, 282, 190], 690, 'satin', 95, { sweptMm: 330 }],
    ['KQ-40', 'Saucepan, 18 cm', [185, 365, 118], 1310, 'mirror', 119, { sweptMm: 420, handling: gloves }],
    ['KQ-41', 'Frying pan, 28 cm', [290, 520, 92], 1690, 'matt', 139, { sweptMm: 690 }],
  ]),
  ...of('shoes', 'box', [
    [
      'TH-3301',
      'Walking shoe Dyke',
      [108, 305, 125],
      410,
      'textile',
      119,
      { family: 'Dyke', variant: 'peat' },
    ],
    [
      'TH-3302',
      'Walking shoe Dyke',
      [108, 305, 125],
      410,
      'textile',
      119,
      { family: 'Dyke', variant: 'reed' },
    ],
    [
      'TH-3303',
      'Walking shoe Dyke',
      [108, 305, 125],
      410,
      'textile',
      119,
      { family: 'Dyke', variant: 'slate' },
    ],
    [
      'TH-3304',
      'Walking shoe Dyke',
      [108, 305, 125],
      410,
      'textile',
      119,
      { family: 'Dyke', variant: 'rust' },
    ],
    [
      'TH-4110',
      'Ankle boot Polder',
      [112, 310, 235],
      690,
      'satin',
      179,
      { family: 'Polder', variant: 'brown' },
    ],
    [
      'TH-4111',
      'Ankle boot Polder',
      [112, 310, 235],
      690,
      'satin',
      179,
      { family: 'Polder', variant: 'black' },
    ],
    ['TH-5200', 'Sandal Wad', [105, 290, 95], 280, 'matt', 89],
  ]),
  ...of('ceramics', 'round', [
    ['SM-01', 'Cereal bowl', [158, 158, 74], 430, 'gloss', 24, { family: 'Breakfast', variant: 'oat' }],
    ['SM-02', 'Cereal bowl', [158, 158, 74], 430, 'gloss', 24, { family: 'Breakfast', variant: 'ink' }],
    ['SM-11', 'Egg cup', [52, 52, 61], 85, 'gloss', 9, { family: 'Breakfast', variant: 'oat' }],
    ['SM-30', 'Bottle vase, tall', [142, 142, 388], 1650, 'matt', 78],
    ['SM-31', 'Ball vase', [210, 210, 198], 1480, 'matt', 66],
  ]),
  ...of('ceramics', 'measured', [
    [
      'SM-20',
      'Mug with handle',
      [88, 122, 96],
      340,
      'gloss',
      19,
      { family: 'Breakfast', variant: 'oat', sweptMm: 150 },
    ],
  ]),
  ...of('tools', 'box', [
    ['GV-1005', 'Block plane', [48, 160, 62], 720, 'satin', 84],
    ['GV-1006', 'Smoothing plane', [64, 245, 135], 1890, 'satin', 139],
    ['GV-2210', 'Mitre saw box', [310, 118, 92], 960, 'matt', 39],
    ['GV-3040', 'Folding rule, 2 m', [17, 238, 33], 128, 'matt', 12],
    [
      'GV-3111',
      'Bench vice, 120 mm',
      [180, 390, 205],
      14_200,
      'matt',
      168,
      { handling: 'Heavy: two hands and a trolley; check the platter’s load limit.' },
    ],
    ['GV-4001', 'Chisel set in a roll, six', [340, 180, 45], 980, 'textile', 118],
    ['GV-5008', 'Tool chest', [480, 260, 250], 7400, 'matt', 129],
  ]),
  ...of('toys', 'box', [
    ['PN-12', 'Pull-along hedgehog', [92, 168, 118], 310, 'matt', 29],
    ['PN-13', 'Pull-along badger', [92, 176, 116], 330, 'matt', 29],
    ['PN-30', 'Dump truck', [145, 255, 150], 870, 'matt', 46],
    [
      'PN-55',
      'Dolls’ house',
      [520, 310, 610],
      5200,
      'matt',
      189,
      { handling: 'Loose roof: tape it inside before it turns.' },
    ],
  ]),
  ...of('toys', 'round', [
    ['PN-02', 'Stacking tower', [110, 110, 205], 420, 'satin', 24],
    ['PN-03', 'Spinning top, large', [135, 135, 150], 190, 'gloss', 18],
  ]),
  ...of('perfume', 'box', [
    [
      'OD-50A',
      'Flacon Erster Regen',
      [62, 34, 108],
      236,
      'clear',
      88,
      { family: 'Erster Regen', variant: '50 ml', handling: gloves },
    ],
    [
      'OD-30A',
      'Flacon Erster Regen',
      [52, 30, 92],
      168,
      'clear',
      62,
      { family: 'Erster Regen', variant: '30 ml', handling: gloves },
    ],
    ['OD-50B', 'Flacon Heuboden, 50 ml', [58, 58, 112], 248, 'clear', 92, { handling: gloves }],
    ['OD-90C', 'Gift box, three flacons', [215, 62, 140], 690, 'gloss', 198],
  ]),
  ...of('perfume', 'round', [
    ['OD-50D', 'Flacon Nachtbus, 50 ml', [64, 64, 121], 262, 'mirror', 96, { handling: gloves }],
  ]),
  ...of('knitwear', 'measured', [
    [
      'FM-801',
      'Fisherman’s jumper on a bust',
      [540, 330, 720],
      3900,
      'textile',
      149,
      { family: 'Fisherman’s jumper', variant: 'navy', sweptMm: 590 },
    ],
    [
      'FM-802',
      'Fisherman’s jumper on a bust',
      [540, 330, 720],
      3900,
      'textile',
      149,
      { family: 'Fisherman’s jumper', variant: 'ecru', sweptMm: 590 },
    ],
    [
      'FM-803',
      'Fisherman’s jumper on a bust',
      [540, 330, 720],
      3900,
      'textile',
      149,
      { family: 'Fisherman’s jumper', variant: 'moss', sweptMm: 590 },
    ],
    [
      'FM-120',
      'Bobble hat on a head',
      [230, 260, 360],
      1450,
      'textile',
      39,
      { family: 'Bobble hat', variant: 'red', sweptMm: 282 },
    ],
    [
      'FM-121',
      'Bobble hat on a head',
      [230, 260, 360],
      1450,
      'textile',
      39,
      { family: 'Bobble hat', variant: 'grey', sweptMm: 282 },
    ],
  ]),
  ...of('bags', 'box', [
    [
      'ZA-210',
      'Shoulder bag Mirador',
      [285, 110, 215],
      780,
      'satin',
      249,
      { family: 'Mirador', variant: 'cognac', handling: 'Fill it with tissue until the flap lies flat.' },
    ],
    [
      'ZA-211',
      'Shoulder bag Mirador',
      [285, 110, 215],
      780,
      'satin',
      249,
      { family: 'Mirador', variant: 'olive', handling: 'Fill it with tissue until the flap lies flat.' },
    ],
    [
      'ZA-212',
      'Shoulder bag Mirador',
      [285, 110, 215],
      780,
      'gloss',
      269,
      {
        family: 'Mirador',
        variant: 'patent black',
        handling: 'Fill it with tissue until the flap lies flat.',
      },
    ],
    ['ZA-300', 'Rucksack Altstadt', [310, 160, 440], 1120, 'textile', 189],
    ['ZA-410', 'Purse Pfennig', [105, 32, 88], 140, 'satin', 79],
  ]),
  ...of('clocks', 'box', [
    ['UN-04', 'Mantel clock, oak', [310, 145, 240], 3150, 'satin', 389],
    ['UN-05', 'Mantel clock, walnut', [310, 145, 240], 3200, 'satin', 399],
    ['UN-11', 'Alarm clock', [105, 58, 118], 420, 'mirror', 69],
    ['UN-12', 'Travel clock', [82, 30, 82], 210, 'gloss', 59],
  ]),
  ...of('clocks', 'round', [
    ['UN-20', 'Dome clock, glass', [165, 165, 265], 1980, 'clear', 259, { handling: gloves }],
  ]),
  ...of('catalogue', 'box', [
    ['MB-70011', 'Bread bin', [380, 245, 185], 1750, 'gloss', 49],
    ['MB-70012', 'Letter rack', [240, 110, 150], 520, 'matt', 22],
    ['MB-70013', 'Kitchen scales', [190, 225, 52], 890, 'gloss', 45],
    ['MB-70014', 'Radio, portable', [245, 88, 160], 1240, 'satin', 99],
  ]),
  ...of('catalogue', 'round', [
    ['MB-70020', 'Waste basket, felt', [290, 290, 320], 830, 'textile', 34],
    ['MB-70021', 'Vacuum flask, 1 l', [95, 95, 310], 610, 'satin', 38],
  ]),
]
