import { keepFile } from '../../db/attachments.ts'
import type { DaySheet, SheetBlock, SheetSpin } from '../../db/daySheet.ts'
import type { Writing } from '../../db/events.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { theStudio } from '../../db/studio.ts'
import { clock } from '../trade/bench.ts'
import { rigCautions } from '../trade/caution.ts'
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

/** What stands on the paper: the day's blocks in their order, each spin with what is needed to find and dial it. */
export function daySheetPage(db: Db, sheet: DaySheet, now: string): Sheet {
  const studio = theStudio(db)
  return {
    paper: studio.paper,
    language: 'en',
    writtenAt: now,
    title: `${sheet.bench}, ${longDay(sheet.day)}`,
    sender: senderOf(studio, 'en-GB'),
    recipient: [],
    facts: [
      ['Spins', String(sheet.blocks.reduce((sum, { spins }) => sum + spins.length, 0))],
      ['Set changes', String(sheet.blocks.filter(({ kind }) => kind === 'set change').length)],
    ],
    blocks: [
      ...(sheet.blocks.length === 0 ? [nothing] : sheet.blocks.flatMap(blockOf)),
      {
        kind: 'paragraph',
        heading: 'Take care',
        text: rigCautions.map(({ sentence, pointer }) => `${sentence} (${pointer})`).join(' '),
      },
    ],
  }
}

const nothing: Block = { kind: 'paragraph', text: 'Nothing is booked on this day.' }

function blockOf(block: SheetBlock): readonly Block[] {
  const heading: Block = { kind: 'paragraph', heading: headingOf(block), text: whoAndHow(block) }
  if (block.spins.length === 0) return [heading]
  return [
    heading,
    {
      kind: 'table',
      columns: [
        { label: 'Code', width: 20, align: 'left' },
        { label: 'Spin', width: 26, align: 'left' },
        { label: 'Frames and marks', width: 30, align: 'left' },
        { label: 'Sample', width: 24, align: 'left' },
      ],
      rows: block.spins.map((spin) => [
        spin.codes.join(', '),
        [spin.name, spin.startPose && `start: ${spin.startPose}`, ...spin.handling]
          .filter(Boolean)
          .join('; '),
        rowsOf(spin),
        spin.places.join(', '),
      ]),
    },
  ]
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
    block.overruledReason && `Booked all the same, because: ${block.overruledReason}`,
  ]
    .filter(Boolean)
    .join('. ')
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
  const date = new Date(`${day}T00:00:00Z`)
  const part = (options: Intl.DateTimeFormatOptions) =>
    new Intl.DateTimeFormat('en-GB', { ...options, timeZone: 'UTC' }).format(date)
  return `${part({ weekday: 'long' })} ${part({ day: 'numeric', month: 'long', year: 'numeric' })}`
}
