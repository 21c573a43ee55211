import type { ExportedTake } from '../../db/takeExport.ts'
import { localText } from '../trade/calendar.ts'
import { type CsvCell, csvHead, csvRows } from './csv.ts'

type Written = (take: ExportedTake, zone: string) => CsvCell

const seconds = (ms: number | null) => (ms === null ? null : ms / 1000)

const columns: readonly (readonly [head: (zone: string) => string, Written])[] = [
  [() => 'Take', ({ takeId }) => takeId],
  [() => 'Job', ({ jobNumber }) => jobNumber],
  [() => 'Client', ({ clientName }) => clientName],
  [() => 'Spin', ({ spin }) => spin],
  [() => 'Product codes', ({ codes }) => codes],
  [() => 'Row', ({ row }) => row],
  [() => 'Take of the spin', ({ number }) => number],
  [() => 'Rig', ({ rigName }) => rigName],
  [() => 'Rig revision', ({ revision }) => revision],
  [() => 'Bench', ({ benchName }) => benchName],
  [() => 'Person', ({ personName }) => personName],
  [() => 'Counted by', ({ countedBy }) => countedBy],
  [() => 'Started (UTC)', ({ startedAt }) => startedAt],
  [(zone) => `Started (${zone})`, ({ startedAt }, zone) => localText(startedAt, zone)],
  [() => 'Ended (UTC)', ({ endedAt }) => endedAt],
  [(zone) => `Ended (${zone})`, ({ endedAt }, zone) => localText(endedAt, zone)],
  [() => 'Frames per turn', ({ framesPerTurn }) => framesPerTurn],
  [() => 'Overlap (frames)', ({ overlapFrames }) => overlapFrames],
  [() => 'Frames shot', ({ framesShot }) => framesShot],
  [() => 'Median step (s)', ({ medianStepMs }) => seconds(medianStepMs)],
  [() => 'Paused (s)', ({ pausedMs }) => seconds(pausedMs)],
  [() => 'Faults', ({ faults }) => faults],
  [() => 'Verdict', ({ verdict }) => verdict],
  [() => 'Reason', ({ verdictReason }) => verdictReason],
  [() => 'Note', ({ note }) => note],
]

/** A part of the list of takes as CSV; the head stands on the first part alone. Instants in UTC and in the studio's zone. */
export function takesCsvPart(takes: readonly ExportedTake[], zone: string, isFirst: boolean): string {
  const head = isFirst ? csvHead(columns.map(([text]) => text(zone))) : ''
  return `${head}${csvRows(takes.map((take) => columns.map(([, write]) => write(take, zone))))}`
}
