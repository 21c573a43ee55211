import PDFDocument from 'pdfkit'
import type { DrawingPage, DrawnRig, Pen, RigDrawing } from '../trade/rigDrawing/drawing.ts'
import { planDrawing } from '../trade/rigDrawing/plan.ts'
import { sideDrawing } from '../trade/rigDrawing/side.ts'
import type { Fact } from '../trade/rigFacts.ts'
import { grey, hairline, ink } from './drawing.ts'
import { type Letters, lettersOf, typeface } from './typeface.ts'

type Pdf = InstanceType<typeof PDFDocument>

/** A photograph as it goes on paper: a JPEG with its size in px. */
export interface SheetPhoto {
  readonly jpeg: Uint8Array
  readonly width: number
  readonly height: number
  readonly caption: string
}

/** A rig and what is dialled on it, as another person rebuilds it. All figures but the drawings' are text already. */
export interface RebuildSheet {
  readonly paper: 'A4' | 'Letter'
  /** The document's own instant: the same sheet and instant always give the same bytes. */
  readonly writtenAt: string
  readonly title: string
  /** Why it stands like this, who wrote it down and when. */
  readonly lead: string
  /** From where everything is measured. */
  readonly measured: string
  readonly rig: DrawnRig
  readonly rigFacts: readonly Fact[]
  readonly settingsFacts: readonly Fact[]
  readonly lightHead: readonly string[]
  readonly lights: readonly (readonly string[])[]
  readonly cautions: string
  readonly photos: readonly SheetPhoto[]
}

const mm = 72 / 25.4
const marginPt = 12 * mm
const between = 14
/** Type sizes tried from the largest; at the smallest 24 lights and 20 rows still fit. */
const sizes = [8.5, 8, 7.5, 7, 6.5, 6] as const
const leastDrawing = 190
const mostDrawing = 310
const photoHeight = { least: 70, most: 150 } as const
/** What the drawings leave to photographs where there are any. */
const photoRoom = 140
/** Denominators that a ruler reads easily. */
const scales = [
  1, 2, 2.5, 4, 5, 7.5, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 250, 500, 1000, 2000,
]
/** Of a light's columns: letter, what, bearing, distance, height, elevation, power, colour. */
const lightShares = [0.05, 0.33, 0.09, 0.12, 0.12, 0.11, 0.09, 0.09]

/**
 * The rebuild sheet on one page: the rig from above and from the side, each at a round scale, every figure of the rig, of
 * its lights and of the settings, the cautions, and photographs as far as there is room. What is told of rig and
 * settings runs over as many lines as the page has room for, and ends in '…' only where it is full.
 */
export function printRebuildSheet(sheet: RebuildSheet): Buffer {
  const pdf = begin(sheet)
  const letters = lettersOf(pdf)
  const width = pdf.page.width - 2 * marginPt
  const bottom = pdf.page.height - marginPt - drawFoot(pdf, letters, sheet, width)
  const top = drawHead(pdf, letters, sheet, width)
  const { size, columns, height } = laidOut(pdf, letters, sheet, width, bottom - top - leastDrawing)
  const room = bottom - top - height
  const forPhotos = sheet.photos.length > 0 ? photoRoom : 0
  const drawingHeight = Math.min(Math.max(room - forPhotos, leastDrawing), room, mostDrawing)
  drawDrawings(pdf, letters, sheet.rig, { top, width, height: drawingHeight })
  let y = top + drawingHeight + between
  y = drawFacts(pdf, columns, { y, size, width }) + between
  y = drawLights(pdf, letters, sheet, { y, size, width })
  drawPhotos(pdf, letters, sheet.photos, { y: y + between, bottom, width })
  pdf.end()
  return pdf.read() as Buffer
}

function begin(sheet: RebuildSheet): Pdf {
  const written = new Date(sheet.writtenAt)
  const pdf = new PDFDocument({
    size: sheet.paper === 'A4' ? 'A4' : 'LETTER',
    margin: 0,
    pdfVersion: '1.7',
    lang: 'en',
    displayTitle: true,
    font: typeface('regular') as unknown as string,
    info: { Title: sheet.title, Creator: 'Turnsheet', CreationDate: written, ModDate: written },
  })
  pdf.registerFont('regular', typeface('regular'))
  pdf.registerFont('semibold', typeface('semibold'))
  return pdf
}

function drawHead(pdf: Pdf, letters: Letters, sheet: RebuildSheet, width: number): number {
  pdf.font('semibold').fontSize(15).fillColor(ink)
  pdf.text(cut(pdf, letters.fit(sheet.title), width), marginPt, marginPt, { lineBreak: false })
  pdf.font('regular').fontSize(8).fillColor(grey)
  pdf.text(cut(pdf, letters.fit(sheet.lead), width), marginPt, marginPt + 20, { lineBreak: false })
  pdf.text(letters.fit(sheet.measured), marginPt, marginPt + 31, { lineBreak: false })
  return marginPt + 46
}

/** The cautions at the bottom of the page; gives the height they take. */
function drawFoot(pdf: Pdf, letters: Letters, sheet: RebuildSheet, width: number): number {
  pdf.font('regular').fontSize(6.5)
  const text = letters.fit(sheet.cautions)
  const height = pdf.heightOfString(text, { width })
  const y = pdf.page.height - marginPt - height
  pdf
    .moveTo(marginPt, y - 5)
    .lineTo(marginPt + width, y - 5)
    .lineWidth(0.5)
    .stroke(hairline)
  pdf.fillColor(ink).text(text, marginPt, y, { width, height: height + 1 })
  return height + 12
}

const lineOf = (size: number) => size * 1.4

/** A fact as it is printed: its words in lines that fit its column. */
interface Told {
  readonly label: string
  readonly lines: readonly string[]
}

/** How many lines a fact may take, tried from the most. */
const mostLines = [8, 3, 2, 1] as const

/** The facts of rig and settings in lines, as whole and as large as they fit into a height with the lights. */
function laidOut(pdf: Pdf, letters: Letters, sheet: RebuildSheet, width: number, room: number) {
  const own = ((width - between) / 2) * 0.64
  const dialled =
    sheet.settingsFacts.length > 0 ? sheet.settingsFacts : [{ label: 'Settings', value: 'none chosen' }]
  const lights = sheet.lights.length > 0 ? sheet.lights.length + 1 : 0
  const tries = mostLines.flatMap((most) => sizes.map((size) => ({ most, size })))
  const lay = ({ most, size }: (typeof tries)[number]) => {
    pdf.font('regular').fontSize(size)
    const columns = [sheet.rigFacts, dialled].map((facts) =>
      facts.map(({ label, value }): Told => ({ label, lines: linesOf(pdf, letters.fit(value), own, most) })),
    )
    const lines = Math.max(...columns.map(linesIn)) + lights
    return { size, columns, height: lines * lineOf(size) + 2 * between + 4 }
  }
  return tries.map(lay).find(({ height }) => height <= room) ?? lay({ most: 1, size: 6 })
}

function linesIn(facts: readonly Told[]): number {
  return facts.reduce((sum, { lines }) => sum + lines.length, 0)
}

interface Place {
  readonly y: number
  readonly size: number
  readonly width: number
}

/** The rig's facts at the left, what is dialled at the right. */
function drawFacts(pdf: Pdf, columns: readonly (readonly Told[])[], { y, size, width }: Place): number {
  const half = (width - between) / 2
  columns.forEach((facts, column) => {
    const x = marginPt + column * (half + between)
    let at = y
    for (const { label, lines } of facts) {
      pdf.font('regular').fontSize(size).fillColor(grey)
      pdf.text(label, x, at, { lineBreak: false })
      pdf.fillColor(ink)
      for (const line of lines) {
        pdf.text(line, x + half * 0.36, at, { lineBreak: false })
        at += lineOf(size)
      }
    }
  })
  return y + Math.max(...columns.map(linesIn)) * lineOf(size)
}

function drawLights(pdf: Pdf, letters: Letters, sheet: RebuildSheet, { y, size, width }: Place): number {
  if (sheet.lights.length === 0) return y
  const lines = [sheet.lightHead, ...sheet.lights]
  lines.forEach((cells, line) => {
    let x = marginPt
    cells.forEach((cell, index) => {
      const own = width * (lightShares[index] ?? 0)
      pdf
        .font(index === 0 && line > 0 ? 'semibold' : 'regular')
        .fontSize(size)
        .fillColor(line === 0 ? grey : ink)
      pdf.text(cut(pdf, letters.fit(cell), own - 4), x, y + line * lineOf(size), { lineBreak: false })
      x += own
    })
  })
  pdf
    .moveTo(marginPt, y + lineOf(size) - 2)
    .lineTo(marginPt + width, y + lineOf(size) - 2)
    .lineWidth(0.5)
    .stroke(hairline)
  return y + lines.length * lineOf(size)
}

/** Both drawings side by side; the plan takes the larger part of the height, the side view of the width. */
function drawDrawings(
  pdf: Pdf,
  letters: Letters,
  rig: DrawnRig,
  { top, width, height }: { readonly top: number; readonly width: number; readonly height: number },
): void {
  pdf.font('regular').fontSize(7)
  const lettering = { lineHeight: 9, widthOf: (text: string) => pdf.widthOfString(text) + 2 }
  const planWidth = width * 0.46
  const views = [
    { name: 'From above', draw: planDrawing, x: marginPt, own: planWidth },
    { name: 'From the side', draw: sideDrawing, x: marginPt + planWidth, own: width - planWidth },
  ]
  for (const { name, draw, x, own } of views) {
    const page: DrawingPage = { width: own, height: height - 12, lettering }
    const perMm = draw(rig, page).fit.perMm
    const scale = scales.find((one) => mm / one <= perMm) ?? 1 / (perMm / mm)
    pdf.font('regular').fontSize(7).fillColor(grey)
    pdf.text(`${name}, 1 : ${scale}`, x, top, { lineBreak: false })
    drawLines(pdf, letters, draw(rig, { ...page, mmPer: scale / mm }), { x, y: top + 12 })
  }
}

const pens: Readonly<
  Record<Pen, { readonly width: number; readonly colour: string; readonly dash?: number }>
> = {
  platter: { width: 1, colour: ink },
  product: { width: 0.7, colour: grey },
  axis: { width: 0.6, colour: ink },
  thin: { width: 0.4, colour: grey },
  field: { width: 0.5, colour: grey, dash: 3 },
  bearing: { width: 0.7, colour: ink },
  stand: { width: 1.6, colour: ink },
  leader: { width: 0.4, colour: grey, dash: 1 },
}

function drawLines(
  pdf: Pdf,
  letters: Letters,
  drawing: RigDrawing,
  at: { readonly x: number; readonly y: number },
) {
  for (const ring of drawing.rings) {
    pdf.circle(at.x + ring.at.x, at.y + ring.at.y, ring.radius)
    stroke(pdf, ring.pen)
  }
  const leaders = drawing.labels.flatMap(({ leader }) =>
    leader ? [{ pen: 'leader' as const, points: leader, isClosed: false }] : [],
  )
  for (const { pen, points, isClosed } of [...drawing.strokes, ...leaders]) {
    const [first, ...rest] = points.map(({ x, y }) => [at.x + x, at.y + y] as const)
    if (!first) continue
    pdf.moveTo(...first)
    for (const next of rest) pdf.lineTo(...next)
    if (isClosed) pdf.closePath()
    stroke(pdf, pen)
  }
  for (const { box, lines } of drawing.labels) {
    // A line that runs under a figure stops short of it.
    pdf.rect(at.x + box.x, at.y + box.y, box.width, box.height).fill('#ffffff')
    lines.forEach((line, index) => {
      pdf
        .font(index === 0 && lines.length > 1 ? 'semibold' : 'regular')
        .fontSize(7)
        .fillColor(ink)
      pdf.text(letters.fit(line), at.x + box.x, at.y + box.y + index * 9, {
        width: box.width,
        align: 'center',
        lineBreak: false,
      })
    })
  }
}

function stroke(pdf: Pdf, pen: Pen): void {
  const { width, colour, dash } = pens[pen]
  pdf.lineWidth(width)
  if (dash === undefined) pdf.undash()
  else pdf.dash(dash, { space: dash })
  pdf.stroke(colour).undash()
}

/** Photographs in one line, as large as the room that is left; none where there is too little. */
function drawPhotos(
  pdf: Pdf,
  letters: Letters,
  photos: readonly SheetPhoto[],
  { y, bottom, width }: { readonly y: number; readonly bottom: number; readonly width: number },
): void {
  const room = Math.min(bottom - y - 12, photoHeight.most)
  if (room < photoHeight.least) return
  let x = marginPt
  for (const photo of photos) {
    const own = Math.min((photo.width / photo.height) * room, width)
    const high = Math.min(room, (own * photo.height) / photo.width)
    if (x + own > marginPt + width + 0.01) return
    pdf.image(photo.jpeg as Buffer, x, y, { width: own, height: high })
    pdf.font('regular').fontSize(6.5).fillColor(grey)
    pdf.text(cut(pdf, letters.fit(photo.caption), own), x, y + high + 2, { lineBreak: false })
    x += own + 8
  }
}

/** The text in lines of a width, parted between words; where more would follow than it may have, the last is cut. */
function linesOf(pdf: Pdf, text: string, width: number, most: number): readonly string[] {
  const lines: string[] = []
  let rest = onOneLine(text)
  while (lines.length < most - 1 && pdf.widthOfString(rest) > width) {
    const spaces = [...rest.matchAll(/ /gu)].map(({ index }) => index)
    const at = spaces.findLast((space) => pdf.widthOfString(rest.slice(0, space)) <= width)
    if (at === undefined) break
    lines.push(rest.slice(0, at))
    rest = rest.slice(at + 1)
  }
  return [...lines, cut(pdf, rest, width)]
}

function onOneLine(text: string): string {
  return text.replaceAll(/\s*\n\s*/gu, ' · ')
}

/** The text as far as it fits into a width, with '…' where it was cut. */
function cut(pdf: Pdf, text: string, width: number): string {
  const line = onOneLine(text)
  if (pdf.widthOfString(line) <= width) return line
  let [fits, over] = [0, line.length]
  while (over - fits > 1) {
    const half = Math.floor((fits + over) / 2)
    if (pdf.widthOfString(`${line.slice(0, half)}…`) <= width) fits = half
    else over = half
  }
  return `${line.slice(0, fits).trimEnd()}…`
}
