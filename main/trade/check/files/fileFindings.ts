import { baseName, countsOn, frameName, numberGaps } from '../../frameFiles.ts'
import { type Finding, keyAt } from '../finding.ts'
import { capital, framesText } from '../light/lightWords.ts'
import type { Verdict } from '../report.ts'
import { settingsFindings } from './exifSettings.ts'
import type { FrameFacts, FrameTrouble } from './frameFacts.ts'
import { shownName } from './frameTrouble.ts'

/** A frame's facts with its number in the take, from 1. */
export interface Placed {
  readonly frame: number
  readonly facts: FrameFacts
}

/** So many of one kind are said one by one; more are one finding. */
const saidSingly = 3

/**
 * What is wrong with the files of a take: what cannot be read, numbers that are missing, names of a second camera or
 * card, files of the same content, pictures of another size or turned, tickets, and changed settings.
 * @param placed  those frames of the turn that were looked at, in their order
 */
export function fileFindings(placed: readonly Placed[]): {
  readonly verdict: Verdict
  readonly findings: readonly Finding[]
} {
  const findings = [
    ...troubleFindings(placed),
    ...ticketFindings(placed),
    ...nameFindings(placed),
    ...duplicateFindings(placed),
    ...sizeFindings(placed),
    ...settingsFindings(placed),
  ]
  return { findings, verdict: verdictOf(placed.length, findings) }
}

function verdictOf(looked: number, findings: readonly Finding[]): Verdict {
  if (looked === 0) return { state: 'unknown', sentence: 'No file was looked at yet.' }
  if (findings.length === 0) {
    const files = looked === 1 ? 'The one file' : `All ${looked}\u00a0files`
    return {
      state: 'clean',
      sentence: `${files} can be read, and names, sizes and settings agree.`,
    }
  }
  const things = findings.length === 1 ? 'One thing was' : `${findings.length}\u00a0things were`
  return { state: 'found', sentence: `${things} found in the files.` }
}

function troubleFindings(placed: readonly Placed[]): Finding[] {
  const byKind = new Map<FrameTrouble['kind'], (Placed & { readonly trouble: FrameTrouble })[]>()
  for (const { frame, facts } of placed) {
    const { trouble } = facts
    if (trouble) byKind.set(trouble.kind, [...(byKind.get(trouble.kind) ?? []), { frame, facts, trouble }])
  }
  return [...byKind].flatMap(([kind, spoilt]): Finding[] => {
    const [first] = spoilt
    if (!first || spoilt.length <= saidSingly) {
      return spoilt.map(({ frame, trouble }) =>
        found(keyAt(`file ${kind}`, frame), [frame], trouble.sentence),
      )
    }
    const frames = spoilt.map(({ frame }) => frame)
    const many = `The pictures of ${frames.length} of the take’s files cannot be had (${framesText(frames)}).`
    return [found(keyAt(`file ${kind}`, first.frame), frames, `${many} The first: ${first.trouble.sentence}`)]
  })
}

function ticketFindings(placed: readonly Placed[]): Finding[] {
  return placed
    .filter(({ facts }) => facts.ticket !== null)
    .map(({ frame, facts }) =>
      found(
        keyAt('ticket', frame),
        [frame],
        `${capital(framesText([frame]))} (${shownName(facts.file)}) shows a ticket and is no frame of the turn. Make it void.`,
      ),
    )
}

function nameFindings(placed: readonly Placed[]): Finding[] {
  const names = placed.flatMap(({ frame, facts }) => {
    const name = frameName(facts.file)
    return name ? [{ frame, file: baseName(facts.file), ...name }] : []
  })
  const gaps = numberGaps(names).flatMap(({ after, missing }) => {
    // A void frame has its file too, and is no frame of the turn.
    const left = (names[after + 1]?.frame ?? 0) - (names[after]?.frame ?? 0) - 1
    if (missing.length <= left) return []
    const frames = [after, after + 1].flatMap((at) => names[at]?.frame ?? [])
    const [first = ''] = missing
    const which =
      missing.length === 1
        ? `${shownName(first)} is missing`
        : `${missing.length}\u00a0files, ${shownName(first)} to ${shownName(missing.at(-1) ?? '')}, are missing`
    const what = `${which} between ${framesText(frames)}. Look for it on the card; if the mark was not shot, shoot it.`
    return [
      {
        ...found(keyAt('number gap', ...frames.slice(1)), frames.slice(1), what, 'missed step'),
        size: missing.length - left,
      },
    ]
  })
  const changes = names.flatMap((name, at) => {
    const before = names[at - 1]
    return before && !countsOn(before, name) ? [{ before, name }] : []
  })
  return [...gaps, ...changesFindings(changes)]
}

interface NameChange {
  readonly before: { readonly file: string; readonly prefix: string }
  readonly name: { readonly frame: number; readonly file: string; readonly prefix: string }
}

function changesFindings(changes: readonly NameChange[]): Finding[] {
  const frames = changes.map(({ name }) => name.frame)
  const [first] = changes
  if (!first) return []
  const names = `${shownName(first.before.file)}, then ${shownName(first.name.file)}`
  if (changes.length > saidSingly) {
    const what = `The files are named by more than one counter and change ${changes.length} times (first ${names}, at ${framesText(frames.slice(0, 1))}). Are two cameras writing here? Check that each frame is of this take.`
    return [found(keyAt('names change', first.name.frame), frames, what)]
  }
  return changes.map(({ before, name }) => {
    const isOther = before.prefix !== name.prefix
    const what = `${isOther ? 'Another camera or another name' : 'The counter begins anew, as on another card'}: ${shownName(before.file)}, then ${shownName(name.file)} at ${framesText([name.frame])}. Check that no frame is missing between the two.`
    return found(keyAt('names change', name.frame), [name.frame], what)
  })
}

function duplicateFindings(placed: readonly Placed[]): Finding[] {
  const byHash = new Map<string, Placed[]>()
  for (const one of placed) {
    const { contentHash } = one.facts
    if (contentHash !== null) byHash.set(contentHash, [...(byHash.get(contentHash) ?? []), one])
  }
  const twice = [...byHash.values()].filter(({ length }) => length > 1)
  return twice.map((same) => {
    const frames = same.map(({ frame }) => frame)
    const names = same.slice(0, saidSingly).map(({ facts }) => shownName(facts.file))
    const what = `${capital(framesText(frames))} hold the same file under several names (${names.join(', ')}${same.length > saidSingly ? ' …' : ''}). Keep one, and shoot the marks that the others stand for.`
    return found(keyAt('same file', ...frames.slice(0, 1)), frames, what)
  })
}

function sizeFindings(placed: readonly Placed[]): Finding[] {
  const sized = placed.filter(({ facts }) => facts.widthPx !== null)
  const usual = mostCommon(sized.map(({ facts }) => sizeText(facts)))
  const strange = sized.filter(({ facts }) => sizeText(facts) !== usual)
  const bySize = Map.groupBy(strange, ({ facts }) => sizeText(facts))
  return [...bySize].map(([size, ofSize]) => {
    const frames = ofSize.map(({ frame }) => frame)
    const isTurned = ofSize.every(({ facts }) => usual === `${facts.heightPx} × ${facts.widthPx}`)
    const how = isTurned
      ? `stand${frames.length === 1 ? 's' : ''} on the side, ${size}\u00a0pixels against ${usual} of the take`
      : `measure${frames.length === 1 ? 's' : ''} ${size}\u00a0pixels, the others ${usual}`
    const todo = isTurned
      ? 'Turn the picture back, or switch off the camera’s own turning.'
      : 'Check the camera’s picture size, and that the file is of this take.'
    return found(`size ${size}`, frames, `${capital(framesText(frames))} ${how}. ${todo}`)
  })
}

function sizeText({ widthPx, heightPx }: FrameFacts): string {
  return `${widthPx} × ${heightPx}`
}

function mostCommon(texts: readonly string[]): string | undefined {
  const counts = new Map<string, number>()
  for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1)
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0]
}

function found(
  key: string,
  frames: readonly number[],
  sentence: string,
  fault: Finding['fault'] = null,
): Finding {
  return { key, frames, sentence, fault, size: frames.length }
}
