import { type CentreChoice, centreOf } from './centre/centre.ts'
import { pointerNotSaid } from './centre/centreWords.ts'
import { pointerDeg } from './centre/nudge.ts'
import { centreCamera, takeScale } from './centre/takeScale.ts'
import type { CheckedTake } from './checkedTake.ts'
import type { FrameTrace } from './frameTrace.ts'
import { framingOf } from './outline/framing.ts'
import type { CentreVerdict } from './report.ts'

/**
 * Where the product stands: off the axis by how much, and within the picture.
 * @param traces     of each mark of the turn; null where its frame is not there, or of another size
 * @param anglesDeg  where the platter stood for each
 */
export function placeVerdicts(
  take: CheckedTake,
  traces: readonly (FrameTrace | null)[],
  anglesDeg: readonly number[],
) {
  const read = traces.flatMap((trace, at) => (trace ? [{ trace, at }] : []))
  const outlines = read.map(({ trace }) => trace)
  const [first] = outlines
  const scale = first && takeScale(take.camera, first)
  const framing = framingOf(outlines, {
    frames: read.map(({ at }) => at + 1),
    marginPpm: take.limits.marginPpm,
    framesPerTurn: take.framesPerTurn,
  })
  const centre = centreOf(outlines, {
    anglesDeg: read.map(({ at }) => anglesDeg[at] ?? 0),
    mmPerPx: scale?.mmPerPx ?? null,
    ...centreCamera(take.camera, scale),
    choice: take.centreChoice,
    centreUm: take.limits.centreUm,
    turns: take.turns,
    pointerBearingDeg: pointerDeg[take.pointerSide ?? 'camera'],
    framesPerTurn: take.framesPerTurn,
  })
  const found = take.pointerSide === null ? withPointerNotSaid(centre) : centre
  const { state, sentence } = framing
  return {
    framing: { state, sentence },
    centre: centreVerdict(found, take.centreChoice),
    findings: [...framing.findings, ...(found.state === 'found' ? found.findings : [])],
    unknown: scale?.mmPerPx === null ? [scale.sentence] : [],
  }
}

/** Words that say which way to push, with what they rest on. */
function withPointerNotSaid(found: ReturnType<typeof centreOf>): ReturnType<typeof centreOf> {
  if (found.state !== 'found' || found.standing !== 'off') return found
  const toldSo = <T extends { readonly sentence: string }>(told: T): T => ({
    ...told,
    sentence: `${told.sentence} ${pointerNotSaid}`,
  })
  return { ...toldSo(found), findings: found.findings.map(toldSo) }
}

function centreVerdict(found: ReturnType<typeof centreOf>, choice: CentreChoice): CentreVerdict {
  const { sentence } = found
  if (found.state === 'unknown') {
    return {
      state: 'unknown',
      sentence,
      choice,
      offset: null,
      nudgeTowardsMark: null,
      quality: null,
      measuredOn: null,
    }
  }
  const { offset, error, unit, nudge, quality, measuredWords, standing } = found
  return {
    state: ({ off: 'found', within: 'clean', open: 'unknown' } as const)[standing],
    sentence,
    choice,
    offset: { value: offset, error, unit },
    nudgeTowardsMark: nudge.towardsMark,
    quality,
    measuredOn: measuredWords,
  }
}
