import { keepFile } from '../../db/attachments.ts'
import type { DaySheet, SheetBlock, SheetSpin } from '../../db/daySheet.ts'
import type { Writing } from '../../db/events.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { theStudio } from '../../db/studio.ts'
import { clock } from '../trade/bench.ts'
import { type Caution, loadCautions, rigCautions } from '../trade/caution.ts'
import { formatDecimal } from '../trade/decimal.ts'
import { senderOf } from './parties.ts'
import { type Block, printSheet, type Sheet } from './sheet.ts'

/** Prints a bench's day and keeps it; gives the attachment that holds the paper. */
export async function daySheetPaper(
  writing: Pick<Writing, 'db' | 'now'> & { readonly folder: string },
  sheet: DaySheet,
): Promise<Id<'attachment'>> {
  const bytes = printSheet(daySheetPage(writing.db, sheet, writing.now))
  return keepFile(writing, writing.folder, bytes, `${sheet.day} ${sheet.bench}.pdf`, 'application/pdf')
}

/** What stands on the paper: the day's blocks in their order, how each set is changed, and each spin with what is needed to find and dial it. */
export function daySheetPage(db: Db, sheet: DaySheet, now: string): Sheet {
  const studio = theStudio(db)
  const told = new Set(sheet.blocks.flatMap(({ cautions }) => cautions))
  const otherCautions = [...rigCautions, ...loadCautions].filter((caution) => !told.has(caution))
  const said = [sheet.closed && `The bench is closed: ${sheet.closed}.`, sheet.clockChange].filter(Boolean)
  return {
    paper: studio.paper,
    language: 'en',
    writtenAt: now,
    title: `${sheet.bench}, ${longDay(sheet.day)}`,
    sender: senderOf(studio, 'en-GB', 'en'),
    recipient: [],
    facts: [
      ['Spins', String(sheet.blocks.reduce((sum, { spins }) => sum + spins.length, 0))],
      ['Set changes', String(sheet.blocks.filter(({ steps }) => steps.length > 0).length)],
      ['Standing at the start', standingText(sheet.standingBefore)],
    ],
    blocks: [
      ...(said.length > 0 ? [{ kind: 'paragraph' as const, text: said.join(' ') }] : []),
      ...(sheet.blocks.length === 0 ? [nothing] : sheet.blocks.flatMap(blockOf)),
      ...(otherCautions.length > 0 ? [cautionText('Take care', otherCautions)] : []),
    ],
  }
}

const nothing: Block = { kind: 'paragraph', text: 'Nothing is booked on this day.' }

/** 'Glass, small, revision 2, since 6 March 2026'. */
function standingText(standing: DaySheet['standingBefore']): string {
  if (standing === null) return 'nothing that is noted'
  return `${standing.rig}, revision ${standing.revision}, since ${plainDay(standing.since)}`
}

function cautionText(heading: string, cautions: readonly Caution[]): Block {
  const text = cautions.map(({ sentence, pointer }) => `${sentence} (${pointer})`).join(' ')
  return { kind: 'paragraph', heading, text }
}

function blockOf(block: SheetBlock): readonly Block[] {
  const about = whoAndHow(block)
  return [
    { kind: 'heading', text: headingOf(block), aside: lengthText(block.minutes), keepWith: 60 },
    ...(about ? [{ kind: 'paragraph' as const, text: about }] : []),
    ...(block.steps.length > 0 ? [stepsTable(block), cautionText('At this change', block.cautions)] : []),
    ...(block.kind === 'set change' && block.steps.length === 0
      ? [{ kind: 'paragraph' as const, text: 'Nothing is to be moved: this rig stands already.' }]
      : []),
    ...(block.spins.length > 0 ? [spinsTable(block)] : []),
  ]
}

function stepsTable({ steps }: SheetBlock): Block {
  return {
    kind: 'table',
    columns: [
      { label: 'Move', width: 22, align: 'left' },
      { label: 'From', width: 34, align: 'left' },
      { label: 'To', width: 36, align: 'left' },
      { label: 'Minutes', width: 8, align: 'right' },
    ],
    rows: steps.map(({ what, from, to, minutes, part }, index) => [
      `${index + 1}. ${what}`,
      from ?? (part === 'settings' ? '' : 'brought'),
      to ?? 'taken away',
      formatDecimal(Math.round(minutes * 10), 1),
    ]),
  }
}

function spinsTable(block: SheetBlock): Block {
  const isDialledAlike = new Set(block.spins.map(({ settings }) => settings)).size === 1
  return {
    kind: 'table',
    columns: [
      { label: 'Code', width: 20, align: 'left' },
      { label: 'Spin', width: 30, align: 'left' },
      { label: 'Frames and marks', width: 28, align: 'left' },
      { label: 'Sample', width: 22, align: 'left' },
    ],
    rows: block.spins.map((spin, index) => [
      `${index + 1}. ${spin.codes.join(', ')}`,
      [spin.name, spin.startPose && `start: ${spin.startPose}`, ...spin.handling].filter(Boolean).join('; '),
      [rowsOf(spin), !isDialledAlike && spin.settings && `dial ${spin.settings}`].filter(Boolean).join('; '),
      [...spin.places, spin.massG === null ? 'mass not known' : massText(spin.massG)].join(', '),
    ]),
  }
}

/** `850 g`, `2.35 kg`. */
function massText(massG: number): string {
  return massG < 1000 ? `${massG}\u00a0g` : `${formatDecimal(massG, 3)}\u00a0kg`
}

/** `1 h 30 min`. */
function lengthText(minutes: number): string {
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60]
  return [hours > 0 && `${hours}\u00a0h`, (rest > 0 || hours === 0) && `${rest}\u00a0min`]
    .filter(Boolean)
    .join(' ')
}

function headingOf(block: SheetBlock): string {
  const times = `${clock(block.fromMinute)} to ${clock(block.toMinute)}`
  const rig = block.rig === null ? 'no rig planned' : `${block.rig}, revision ${block.revision ?? 1}`
  if (block.kind === 'set change') return `${times}  Set change to ${rig}`
  if (block.kind === 'other') return `${times}  ${block.title ?? ''}`
  return `${times}  ${block.jobNumber ?? ''} ${block.client ?? ''}, ${rig}`
}

function whoAndHow(block: SheetBlock): string {
  const settings = [...new Set(block.spins.map((spin) => spin.settings))]
  return [
    block.people.map(({ name }) => name).join(', '),
    settings.length === 1 && settings[0],
    missingText(block),
    block.overruledReason && `Booked all the same, because: ${block.overruledReason}`,
  ]
    .filter(Boolean)
    .join('. ')
}

/** Says where a set change takes longer than is booked for it. */
function missingText({ kind, missingMinutes }: SheetBlock): string | false {
  if (missingMinutes === 0) return false
  if (kind === 'spins') return `No time for the set change is booked; it takes ${lengthText(missingMinutes)}`
  return `The steps take ${lengthText(missingMinutes)} longer than is booked`
}

function rowsOf(spin: SheetSpin): string {
  return spin.rows
    .map(({ viewAngleMdeg, framesPerTurn, overlapFrames, marks }) => {
      const frames = overlapFrames > 0 ? `${framesPerTurn} + ${overlapFrames}` : `${framesPerTurn}`
      const angle = spin.rows.length > 1 ? `${formatDecimal(viewAngleMdeg, 3)}°: ` : ''
      return `${angle}${frames}${marks ? `, ${marks}` : ''}`
    })
    .join('; ')
}

/** 'Monday 9 March 2026'; joined by hand, since some editions of British English set a comma after the weekday. */
function longDay(day: string): string {
  return `${dayPart(day, { weekday: 'long' })} ${plainDay(day)}`
}

function plainDay(day: string): string {
  return dayPart(day, { day: 'numeric', month: 'long', year: 'numeric' })
}

function dayPart(day: string, options: Intl.DateTimeFormatOptions): string {
  return new Intl.DateTimeFormat('en-GB', { ...options, timeZone: 'UTC' }).format(
    new Date(`${day}T00:00:00Z`),
  )
}
