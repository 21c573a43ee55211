import zlib from 'node:zlib'
import { describe, expect, it } from 'vitest'
import { printRebuildSheet, type RebuildSheet } from '../../main/papers/rebuildSheet.ts'
import type { DrawnRig } from '../../main/trade/rigDrawing/drawing.ts'
import {
  lightCells,
  rigFacts,
  settingsFacts,
  type ToldLight,
  type ToldRig,
} from '../../main/trade/rigFacts.ts'
import { readPdf } from './readPdf.ts'

const aLight = (bearingDeg: number, distanceMm: number, heightMm: number): ToldLight => ({
  kind: 'strip softbox',
  modifier: 'grid',
  bearingDeg,
  elevationDeg: 30,
  distanceMm,
  heightMm,
  power: '1/8',
  colourTemperatureK: 5500,
})

const told: ToldRig = {
  platterName: 'Birch platter',
  rimMm: 1220.5,
  divisionMm: 0.5,
  surface: 'matt white board',
  loadLimitG: 12_000,
  backdrop: 'white paper sweep',
  camera: 'house camera',
  sensorWidthMm: 36,
  sensorHeightMm: 24,
  sensorWidthPx: 8256,
  sensorHeightPx: 5504,
  lens: '100 mm macro',
  focalMm: 100,
  widestCenti: 280,
  smallestCenti: 3200,
  cameraDistanceMm: 1850,
  cameraHeightMm: 260,
  cameraTiltDeg: 5,
  productSweptMm: 180,
  productHeightMm: 240,
  flags: 'black cards at 80° and 280°',
  note: null,
}

function aSheet(lights: readonly ToldLight[], of: Partial<RebuildSheet> = {}): RebuildSheet {
  const rig: DrawnRig = {
    platterDiameterMm: 400,
    camera: { distanceMm: 1850, heightMm: 260, tiltDeg: 5, fieldWidthMm: 630, fieldHeightMm: 420 },
    rows: [],
    lights: lights.map((light, index) => ({ ...light, index, letter: String.fromCharCode(65 + index) })),
    product: { sweptMm: 180, heightMm: 240 },
  }
  return {
    paper: 'A4',
    writtenAt: '2026-03-02T08:00:00.000Z',
    title: 'Glass, revision 2',
    lead: 'Camera raised: the shoulders closed up.',
    measured: 'Distances are level, from the platter’s axis.',
    rig,
    rigFacts: rigFacts(told),
    settingsFacts: settingsFacts({
      focusMm: 1_800,
      apertureCenti: 1_100,
      apertureHeld: 'ring',
      shutterNum: 1,
      shutterDen: 125,
      iso: 100,
      whiteBalanceK: 5_600,
      cropXPpm: 100_000,
      cropYPpm: 0,
      cropWidthPpm: 800_000,
      cropHeightPpm: 1_000_000,
      development: 'neutral',
      note: null,
      rows: [
        {
          viewAngleDeg: 5,
          framesPerTurn: 244,
          overlapFrames: 3,
          cameraDistanceMm: null,
          cameraHeightMm: null,
        },
      ],
    }),
    lightHead: ['', 'Light', 'Bearing', 'Distance', 'Height', 'Falls', 'Power', 'Colour'],
    lights: lights.map((light, index) => Object.values(lightCells(light, index))),
    cautions: 'Weight every stand at its foot. The stand maker’s rating and instructions.',
    photos: [],
    ...of,
  }
}

interface Way {
  readonly points: readonly (readonly [number, number])[]
  readonly lineWidth: number
}

/** The open lines and the circles of a page, by its own operators (PDF 32000-1, 8.5.2 and 8.4.4), in points from above. */
function drawn(pdf: Buffer): {
  readonly ways: readonly Way[]
  readonly circles: readonly (readonly [number, number, number])[]
} {
  const text = pdf.toString('latin1')
  const id = /\/Contents (\d+) 0 R/u.exec(text)?.[1]
  const from = text.indexOf('stream\n', text.indexOf(`\n${id} 0 obj`)) + 'stream\n'.length
  const content = zlib.inflateSync(pdf.subarray(from, text.indexOf('\nendstream', from))).toString('latin1')
  const ways: Way[] = []
  const circles: [number, number, number][] = []
  let points: [number, number][] = []
  let curves: number[][] = []
  let lineWidth = 1
  for (const line of content.split('\n')) {
    const numbers = line.split(' ').slice(0, -1).map(Number)
    const [x = 0, y = 0] = numbers
    const operator = line.split(' ').at(-1)
    if (operator === 'w') lineWidth = x
    if (operator === 'm') points = [[x, y]]
    if (operator === 'l') points.push([x, y])
    if (operator === 'c') curves.push(numbers)
    if (operator === 'S') {
      if (curves.length === 4) {
        const xs = curves.map((curve) => curve[4] ?? 0)
        const ys = curves.map((curve) => curve[5] ?? 0)
        const [left, right] = [Math.min(...xs), Math.max(...xs)]
        circles.push([(left + right) / 2, (Math.min(...ys) + Math.max(...ys)) / 2, (right - left) / 2])
      } else ways.push({ points, lineWidth })
      curves = []
    }
  }
  return { ways, circles }
}

describe('the rebuild sheet', () => {
  it('has every light of both drawings where trigonometry puts it, at the scale it says', async () => {
    const lights = [aLight(45, 900, 520), aLight(300, 760, 640), aLight(160, 1100, 350)]
    const pdf = printRebuildSheet(aSheet(lights))
    const { ways, circles } = drawn(pdf)
    const [words = ''] = (await readPdf(pdf)).pages
    const scaleOf = (view: string) => Number(new RegExp(`${view}, 1 : ([\\d.]+)`, 'u').exec(words)?.[1])
    const mm = 72 / 25.4
    // The platter's circle is 400 mm at the plan's scale, the product's 180.
    const per = mm / scaleOf('From above')
    expect(circles.map(([, , radius]) => radius)).toEqual([
      expect.closeTo(200 * per, 2),
      expect.closeTo(90 * per, 2),
    ])
    const [x = 0, y = 0] = circles[0] ?? []
    const ends = (at: readonly [number, number]) =>
      ways.filter(({ points }) => {
        const last = points.at(-1)
        return points.length === 2 && last && Math.hypot(last[0] - at[0], last[1] - at[1]) < 0.02
      })
    for (const { bearingDeg, distanceMm } of lights) {
      const angle = (bearingDeg * Math.PI) / 180
      const at = [x - distanceMm * Math.sin(angle) * per, y + distanceMm * Math.cos(angle) * per] as const
      const [bearing] = ends(at)
      // The bearing line runs from the platter's edge straight out to the light.
      const [fromX = 0, fromY = 0] = bearing?.points[0] ?? []
      expect(Math.hypot(fromX - x, fromY - y)).toBeCloseTo(200 * per, 1)
    }
    // The camera stands below the axis at its distance: the end of the line of sight.
    expect(ends([x, y + 1850 * per]).length).toBeGreaterThan(0)
    const side = mm / scaleOf('From the side')
    // The line of the platter's surface is the one long level line of the drawings' thin pen.
    const level = ways.find(
      ({ points: [a, b], lineWidth }) => a && b && a[1] === b[1] && b[0] - a[0] > 200 && lineWidth === 0.4,
    )
    const surface = level?.points[0]?.[1] ?? Number.NaN
    const uprights = ways.filter(
      ({ points: [a, b, more], lineWidth }) =>
        a &&
        b &&
        !more &&
        Math.abs(a[0] - b[0]) < 0.01 &&
        Math.abs(a[1] - surface) < 0.01 &&
        lineWidth === 0.7,
    )
    expect(uprights.map(({ points }) => (surface - (points[1]?.[1] ?? 0)) / side)).toEqual(
      lights.map(({ heightMm }) => expect.closeTo(heightMm, 0)),
    )
  })

  it('says every figure of rig, lights and settings, and the cautions', async () => {
    const [page = ''] = (await readPdf(printRebuildSheet(aSheet([aLight(45, 900, 520)])))).pages
    const words = page.replaceAll(/\s+/gu, ' ')
    for (const one of [
      'Glass, revision 2',
      'Camera raised',
      'Birch platter',
      '1,220.5 mm',
      '12 kg',
      '36 × 24 mm',
      '8,256 × 5,504 px',
      '100 mm macro, 100 mm',
      'f/2.8',
      'f/32',
      '1,850 mm',
      '5° down',
      '45°',
      '900 mm',
      '520 mm',
      '1/8',
      '5,500 K',
      '244 + 3 frames',
      'f/11, by the lens ring',
      '1/125 s',
      '80 % wide',
      'black cards at 80° and 280°',
      '180 mm wide as it turns, 240 mm high',
      'from the platter’s axis',
      'Weight every stand',
    ]) {
      expect(words).toContain(one)
    }
  })

  it('says long notes and the camera’s place for a row to their ends, over several lines', async () => {
    const note = `The left flag stands ${'a hand behind the edge of the sweep, '.repeat(6)}and is taped to the floor.`
    const row = '82 + 2 frames, 20° down, camera 1,700 mm from the axis, 800 mm high'
    const sheet = aSheet([aLight(45, 900, 520)])
    const pdf = printRebuildSheet({
      ...sheet,
      rigFacts: [...sheet.rigFacts, { label: 'Note', value: note }],
      settingsFacts: [{ label: 'Row 2', value: row }, ...sheet.settingsFacts],
    })
    const { pages } = await readPdf(pdf)
    const words = pages[0]?.replaceAll(/\s+/gu, ' ')
    expect(pages).toHaveLength(1)
    expect(words).not.toContain('…')
    expect(words).toContain('and is taped to the floor.')
    expect(words).toContain('800 mm high')
  })

  it.each(['A4', 'Letter'] as const)(
    'stays on one page of %s with 24 lights, 20 rows and long words',
    async (paper) => {
      const lights = Array.from({ length: 24 }, (_, index) => ({
        ...aLight(index * 15, 500 + index * 40, index * 50),
        modifier: 'a very long word for a modifier that was built in the studio from card and tape '.repeat(
          2,
        ),
      }))
      const settings = Array.from({ length: 20 }, (_, row) => ({
        label: `Row ${row + 1}`,
        value: '72 + 2 frames, 5° down',
      }))
      const pdf = printRebuildSheet(
        aSheet(lights, { paper, settingsFacts: settings, lead: 'why '.repeat(200) }),
      )
      const { pages } = await readPdf(pdf)
      expect(pages).toHaveLength(1)
      expect(pages[0]).toContain('Row 20')
      expect(pages[0]).toContain('345°')
      // A letter that the typeface lacks would be printed as '?'.
      expect(pages[0]).not.toContain('?')
      const [, height] = /\/MediaBox \[0 0 [\d.]+ ([\d.]+)\]/u.exec(pdf.toString('latin1')) ?? []
      // ISO 216: A4 is 297 mm high; US Letter 11 in.
      expect((Number(height) * 25.4) / 72).toBeCloseTo(paper === 'A4' ? 297 : 279.4, 1)
    },
  )

  it('is the same every time', () => {
    const sheet = aSheet([aLight(45, 900, 520)])
    expect(printRebuildSheet(sheet).equals(printRebuildSheet(sheet))).toBe(true)
  })
})
