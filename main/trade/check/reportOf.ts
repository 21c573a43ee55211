import { baseName } from '../frameFiles.ts'
import type { CheckedTake } from './checkedTake.ts'
import type { EdgeMark } from './edgeMark/edgeMark.ts'
import type { BandProfile } from './edgeMark/edgeMarkSeen.ts'
import { markedClosingKey } from './edgeMark/edgeMarkWords.ts'
import {
  closingAngles,
  markedClosing,
  markedSteps,
  markedStepsVerdict,
  markOfTurn,
  notMeasured,
} from './edgeMark/markedTurn.ts'
import { fileFindings } from './files/fileFindings.ts'
import type { FrameFacts } from './files/frameFacts.ts'
import type { Finding } from './finding.ts'
import type { FrameTrace } from './frameTrace.ts'
import { lightLimitsOf, lightOf } from './light/light.ts'
import { productDriftKey } from './light/lightFindings.ts'
import { horizonOf } from './outline/horizonWords.ts'
import { placeVerdicts } from './placeVerdicts.ts'
import { isPlainTurn, leftOutNumbers, renumbered, renumberedWords, takeNumbers } from './renumber.ts'
import type { FrameFigures, TakeReport, Verdict } from './report.ts'
import { closingOf } from './turn/closing.ts'
import { knownTurn } from './turn/knownTurn.ts'
import { samePictureFindings, samePictures } from './turn/samePicture.ts'
import { stepsOf, type TakeSteps } from './turn/steps.ts'
import { takeMatches } from './turn/takeMatches.ts'
import { ofCommonestSize } from './turn/thumbPixels.ts'
import { turnAnglesDeg } from './turn/turnAngles.ts'
import {
  closingFindings,
  closingVerdict,
  stepFindings,
  stepsVerdict,
  turnCountKey,
} from './turn/turnFindings.ts'
import type { Turn } from './turnFrames.ts'

/** A frame that was looked at; without a trace where its picture cannot be had. */
export interface SeenFrame {
  readonly facts: FrameFacts
  readonly trace: FrameTrace | null
  /** The light along the platter's edge; null where nobody has drawn the band, or it was not read yet. */
  readonly band: BandProfile | null
}

/**
 * Joins what all parts of the check say of a take, or of as much of it as was read. Every part but the files' counts
 * the marks of the turn, from 1; the report counts the take's frames.
 * @param seen  of each frame of the turn; null where it was not looked at yet, or the mark has no frame
 */
export function reportOf(take: CheckedTake, turn: Turn, seen: readonly (SeenFrame | null)[]): TakeReport {
  const read = seen.findLastIndex((one) => one !== null) + 1
  const traces = ofCommonestSize(turn.slice(0, read).map((_, at) => seen[at]?.trace ?? null))
  const light = lightOf(traces, lightLimitsOf(take.limits), take.framesPerTurn)
  const mark = markOfTurn(
    traces.map((_, at) => seen[at]?.band ?? null),
    take.framesPerTurn,
  )
  const hasOtherLight = light.findings.some(({ key }) => key === productDriftKey)
  const lit = { traces, unevenFrames: light.unevenFrames, hasOtherLight }
  const turned = turnVerdicts(take, lit, mark)
  const placed = placeVerdicts(take, traces, turnAnglesDeg(read, take.framesPerTurn, turned.known, mark))
  const horizon = horizonOf(take, traces)
  const files = fileFindings(
    turn.flatMap((frame, at) => {
      const facts = seen[at]?.facts
      return frame && facts ? [{ frame: frame.frame, facts }] : []
    }),
  )
  const frames = turn.flatMap((frame, at): FrameFigures[] => {
    const one = seen[at]
    if (!frame || !one) return []
    return [
      {
        frame: frame.frame,
        file: baseName(one.facts.file),
        problem: one.facts.trouble?.sentence ?? null,
        frameY: rounded(one.trace?.frameY),
        backdropY: rounded(one.trace?.backdropY),
        platterY: rounded(one.trace?.platterY),
        productY: rounded(one.trace?.productY),
        luminanceEv: rounded(light.frames[at]?.luminanceEv),
        changeEv: rounded(light.frames[at]?.changeEv),
        stepRatio: rounded(turned.ratios[at]),
        match: rounded(turned.match[at]),
      },
    ]
  })
  const report = inTakeNumbers(turn, {
    framesOfTake: turn.filter((frame) => frame !== null).length,
    lastFrame: Math.max(0, ...turn.map((frame) => frame?.frame ?? 0)),
    leftOut: leftOutNumbers(turn),
    framesRead: frames.length,
    frames,
    light: light.verdict,
    steps: turned.steps,
    closing: turned.closing,
    centre: placed.centre,
    framing: placed.framing,
    horizon: horizon.verdict,
    files: files.verdict,
    findings: [...light.findings, ...turned.findings, ...placed.findings, ...horizon.findings],
    unknown: [
      ...light.unknown,
      ...placed.unknown,
      ...turned.unknown,
      ...matchedElsewhere(turn, seen, traces),
    ],
  })
  // Files are the take's exposures from the start: their names are no numbers of marks.
  return { ...report, findings: inOrder([...report.findings, ...files.findings]) }
}

interface LitTraces {
  readonly traces: readonly (FrameTrace | null)[]
  /** Where the light on the product and on what stands still changed apart (`LightCheck.unevenFrames`). */
  readonly unevenFrames: readonly number[]
  /** The product's own light is another after the turn. */
  readonly hasOtherLight: boolean
}

/**
 * The steps without those across which a part of the light changed: no exposure corrects that, and the picture leaps
 * without a mark passed over.
 */
function withoutUneven(steps: TakeSteps, unevenFrames: readonly number[]): TakeSteps {
  if (unevenFrames.length === 0) return steps
  const isUneven = new Set(unevenFrames)
  const missed = steps.missed.filter((frame) => !isUneven.has(frame))
  return {
    ...steps,
    missed,
    ratios: steps.ratios.map((ratio, at) => (isUneven.has(at + 1) ? null : ratio)),
    unseen: [...new Set([...steps.unseen, ...unevenFrames])].sort((a, b) => a - b),
  }
}

/** How the frames stand to each other: steps, closing, same pictures, and how well each matches frame 1. */
function turnVerdicts(
  { framesPerTurn, hasEnded }: CheckedTake,
  { traces, unevenFrames, hasOtherLight }: LitTraces,
  mark: EdgeMark | null,
) {
  const matches = takeMatches(traces, framesPerTurn)
  const byMark = mark && closingAngles(mark)
  const told = closingOf(matches, { frames: framesPerTurn, anglesDeg: byMark, hasOtherLight })
  const closing = mark ? markedClosing(told, mark) : told
  const seen = withoutUneven(stepsOf(matches, knownTurn(closing, framesPerTurn)), unevenFrames)
  const steps: TakeSteps = mark ? markedSteps(seen, mark) : seen
  const same = samePictures(matches, seen.doubled)
  const start = matchStart(traces)
  const fromFirst = traces.map((trace, at) =>
    trace === null ? Number.NaN : at === start ? 0 : matches.distance(start, at),
  )
  const farthest = Math.max(0, ...fromFirst.filter(Number.isFinite))
  const isMarked = mark !== null && mark.anglesDeg !== null
  const passed = steps.missed.length + steps.notPlaced
  const closes = closingFindings(closing, framesPerTurn, { told: passed, hasEnded })
  const isToldByMark = mark?.findings.some(({ key }) => key === markedClosingKey) ?? false
  return {
    known: steps,
    ratios: steps.ratios,
    match: fromFirst.map((distance) => (farthest > 0 ? 1 - distance / farthest : Number.NaN)),
    steps: isMarked ? markedStepsVerdict(steps, mark) : stepsVerdict(steps),
    closing: closingVerdict(closing, framesPerTurn),
    findings: [
      // A slip that the mark has measured is told by it alone.
      ...stepFindings(isMarked ? { ...steps, missed: steps.missed.filter(notIn(mark)) } : steps),
      ...(isMarked ? mark.findings : []),
      ...closes.filter(({ key }) => !(isToldByMark && key === turnCountKey)),
      ...samePictureFindings(isMarked ? notMeasured(same, mark) : same),
    ],
    unknown: mark && !isMarked ? mark.findings.map(({ sentence }) => sentence) : [],
  }
}

/** The frame that the others are matched with: the first that is there and of the take's size. */
function matchStart(traces: readonly (FrameTrace | null)[]): number {
  return Math.max(
    0,
    traces.findIndex((trace) => trace !== null),
  )
}

/** Says so where the match is told against another frame than the take's first, as after a test shot in another crop. */
function matchedElsewhere(
  turn: Turn,
  seen: readonly (SeenFrame | null)[],
  traces: readonly (FrameTrace | null)[],
): readonly string[] {
  const start = matchStart(traces)
  const [first, then] = [turn[0], turn[start]]
  if (start === 0 || !first || !then || !seen[0]) return []
  const why = seen[0].trace ? 'has another size than the others' : 'cannot be read'
  return [`Frame ${first.frame} ${why}: how well a frame matches is told against frame ${then.frame}.`]
}

function notIn({ slips }: EdgeMark): (frame: number) => boolean {
  return (frame) => !slips.some(({ from, to }) => to === frame && to - from === 1)
}

/** Figures are shown to a thousandth at most: shorter is quicker to keep and to send. */
function rounded(value: number | null | undefined): number | null {
  return value === null || value === undefined || !Number.isFinite(value)
    ? null
    : Math.round(value * 1e4) / 1e4
}

function inTakeNumbers(turn: Turn, report: TakeReport): TakeReport {
  if (isPlainTurn(turn)) return report
  const number = takeNumbers(turn)
  const words = <T extends Verdict>(verdict: T): T => ({
    ...verdict,
    sentence: renumberedWords(verdict.sentence, number),
  })
  const { steps, closing } = report
  return {
    ...report,
    light: words(report.light),
    steps: { ...words(steps), missed: steps.missed.map(number), doubled: steps.doubled.map(number) },
    closing: { ...words(closing), loopIn: number(closing.loopIn), loopOut: number(closing.loopOut) },
    centre: words(report.centre),
    framing: words(report.framing),
    horizon: words(report.horizon),
    findings: report.findings.map((finding) => renumbered(finding, number)),
  }
}

/** What is about the whole take first, then in the order of the frames. */
function inOrder(findings: readonly Finding[]): readonly Finding[] {
  return [...findings].sort((a, b) => (a.frames[0] ?? 0) - (b.frames[0] ?? 0))
}
