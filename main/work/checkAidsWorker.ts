import { parentPort } from 'node:worker_threads'
import type { CentreFacts, CentreFound, CentreUnknown } from '../trade/check/centre/centre.ts'
import { quickCentre } from '../trade/check/centre/quickCentre.ts'
import { type CameraStand, mmPerPixel } from '../trade/check/centre/scale.ts'
import { centreCamera, takeScale } from '../trade/check/centre/takeScale.ts'
import type { FrameTrace } from '../trade/check/frameTrace.ts'
import { usualWhiteLimits, type WhiteTest, whiteOf } from '../trade/check/light/white.ts'
import { framePartsOf } from '../trade/check/outline/silhouette.ts'
import { traceOf } from '../trade/check/outline/trace.ts'
import { type AfterStop, afterStop } from '../trade/check/turn/afterStop.ts'
import { type FrameMatch, matchFrames } from '../trade/check/turn/match.ts'
import { type PosedFrame, startPoseOf } from '../trade/check/turn/startPose.ts'
import { type CheckPicture, checkPicture, largePicture } from './checkPicture.ts'

// A thread of its own: looks at single frames for the helps before and beside a take.

/** A frame of a folder: its files, and what changes when they are written anew. */
export interface AidFrame {
  readonly folder: string
  readonly files: readonly string[]
  readonly stamp: string
}

/** What of a frame is shown beside any answer about it. */
export interface LookedAt {
  readonly file: string
  /** Why it cannot be read; null where it can. */
  readonly trouble: string | null
  /** The picture as a data URL; null where it cannot be read. */
  readonly pictureUrl: string | null
}

/** What the thread is asked. */
export type AidAsk = CentreAsk | WhiteAsk | MatchAsk | AfterStopAsk

/** A frame against the approved one. */
export interface MatchAsk {
  readonly ask: 'match'
  readonly frame: AidFrame
  readonly approved: AidFrame
  /** Frames of the approved take on one sheet, by which its poses are known; null where none is kept. */
  readonly strip: ApprovedStrip | null
  /** What the longer side of the frame spans at the axis; null where nobody knows. */
  readonly longSideMm: number | null
}

/** The contact strip of a take, row by row. */
export interface ApprovedStrip {
  readonly file: string
  /** The take's numbers of its frames. */
  readonly frames: readonly number[]
  readonly columns: number
  readonly cellWidthPx: number
  readonly cellHeightPx: number
  readonly framesPerTurn: number
}

/** The last mark shot again, against the last frames before the stop, in their order. */
export interface AfterStopAsk {
  readonly ask: 'after stop'
  readonly frame: AidFrame
  readonly before: readonly AidFrame[]
}

/** Quick frames in the order they were shot, each at its mark (from 0). */
export interface CentreAsk {
  readonly ask: 'centre'
  readonly frames: readonly AidFrame[]
  readonly marks: readonly number[]
  /** What the longer side of a frame spans at the axis; null where nobody knows. */
  readonly longSideMm: number | null
  /** The rig's camera, by which it is told whether the frames were cut; null where its sensor is not written down. */
  readonly camera: CameraStand | null
  readonly facts: Omit<CentreFacts, 'anglesDeg' | 'mmPerPx' | 'camera'>
}

export interface WhiteAsk {
  readonly ask: 'white'
  readonly frame: AidFrame
  readonly whiteCode: number
}

/** What it answers, by what was asked. A part is null where a frame that it needs cannot be read. */
export interface AidAnswers {
  readonly centre: {
    readonly frames: readonly { readonly file: string; readonly trouble: string | null }[]
    /** Why distances may be wrong; null where lens and frames agree. */
    readonly scaleDoubt: string | null
    /** Null while fewer than four frames can be read. */
    readonly centre: CentreFound | CentreUnknown | null
  }
  readonly white: LookedAt & { readonly white: WhiteTest | null }
  readonly match: LookedAt & { readonly match: FrameMatch | null; readonly doubt: string | null }
  readonly 'after stop': LookedAt & {
    readonly beforeUrl: string | null
    readonly afterStop: AfterStop | null
  }
}

export interface AidAsked {
  readonly id: number
  readonly ask: AidAsk
}

export type AidTold =
  | { readonly id: number; readonly answer: AidAnswers[AidAsk['ask']] }
  | { readonly id: number; readonly failed: string }

/** The last frames looked at stay: eight quick ones, and what they are compared with. */
const mostKept = 12
const kept = new Map<string, Promise<CheckPicture>>()

/** A frame, decoded once for as long as its files stay as they are. */
function pictureOf({ folder, files, stamp }: AidFrame): Promise<CheckPicture> {
  const key = [folder, stamp, ...files].join('\n')
  const picture = kept.get(key) ?? checkPicture(folder, files)
  kept.delete(key)
  kept.set(key, picture)
  for (const oldest of kept.keys()) {
    if (kept.size <= mostKept) break
    kept.delete(oldest)
  }
  return picture
}

const largeUrls = new WeakMap<CheckPicture, Promise<string | null>>()

/** The picture of a frame as a person compares it: large, and made once. */
async function lookedAt({ folder, files }: AidFrame, picture: CheckPicture): Promise<LookedAt> {
  const { file, trouble } = picture.facts
  if (trouble) return { file, trouble: trouble.sentence, pictureUrl: null }
  const url = largeUrls.get(picture) ?? largeUrl(folder, files)
  largeUrls.set(picture, url)
  return { file, trouble: null, pictureUrl: await url }
}

async function largeUrl(folder: string, files: readonly string[]): Promise<string | null> {
  const jpeg = await largePicture(folder, files)
  return jpeg && `data:image/jpeg;base64,${Buffer.from(jpeg).toString('base64')}`
}

const traces = new WeakMap<CheckPicture, FrameTrace>()

/** What the check keeps of a frame, made once for each picture. */
function traceOfPicture(picture: CheckPicture): FrameTrace | null {
  if (!picture.small) return null
  const trace = traces.get(picture) ?? traceOf(picture.small)
  traces.set(picture, trace)
  return trace
}

const fewestQuick = 4

async function centre(asked: CentreAsk): Promise<AidAnswers['centre']> {
  const pictures = await Promise.all(asked.frames.map(pictureOf))
  const read = pictures.flatMap((picture, index) => {
    const trace = traceOfPicture(picture)
    return trace ? [{ trace, mark: asked.marks[index] ?? 0 }] : []
  })
  const frames = pictures.map(({ facts }) => ({ file: facts.file, trouble: facts.trouble?.sentence ?? null }))
  const [first] = read
  if (!first || read.length < fewestQuick) return { frames, scaleDoubt: null, centre: null }
  const scale = takeScale(asked.camera, first.trace)
  const facts = {
    ...asked.facts,
    mmPerPx: asked.longSideMm === null ? null : mmPerPixel(asked.longSideMm, first.trace),
    ...centreCamera(asked.camera, scale),
  }
  return {
    frames,
    scaleDoubt: scale.mmPerPx === null ? scale.sentence : null,
    centre: quickCentre(
      read.map(({ trace }) => trace),
      read.map(({ mark }) => mark),
      facts,
    ),
  }
}

async function white({ frame, whiteCode }: WhiteAsk): Promise<AidAnswers['white']> {
  const picture = await pictureOf(frame)
  const { small } = picture
  const parts = small && framePartsOf(small)
  const test = small && whiteOf(small, parts?.partAt ?? (() => 'none'), { ...usualWhiteLimits, whiteCode })
  return { ...(await lookedAt(frame, picture)), white: test }
}

/** Sides are rounded to whole pixels: so much may their proportions differ. */
const sameShape = 0.015

/** The trace of a picture in another one's size. */
async function traceInSize(
  picture: CheckPicture,
  { widthPx, heightPx }: Pick<FrameTrace, 'widthPx' | 'heightPx'>,
): Promise<FrameTrace | null> {
  const { small } = picture
  if (!small || (small.widthPx === widthPx && small.heightPx === heightPx)) return traceOfPicture(picture)
  const { default: sharp } = await import('sharp')
  const raw = { width: small.widthPx, height: small.heightPx, channels: 3 } as const
  const rgb = await sharp(small.rgb, { raw }).resize(widthPx, heightPx, { fit: 'fill' }).raw().toBuffer()
  return traceOf({ widthPx, heightPx, rgb: new Uint8Array(rgb) })
}

let lastPoses: { readonly file: string; readonly poses: Promise<readonly PosedFrame[]> } | undefined

/** The frames of a sheet, cut apart once: frame after frame is matched with one approved take. */
function posesOf(strip: ApprovedStrip): Promise<readonly PosedFrame[]> {
  if (lastPoses?.file !== strip.file) lastPoses = { file: strip.file, poses: cutPoses(strip) }
  return lastPoses.poses
}

async function cutPoses(strip: ApprovedStrip): Promise<readonly PosedFrame[]> {
  const { file, frames, columns, cellWidthPx: width, cellHeightPx: height, framesPerTurn } = strip
  const { default: sharp } = await import('sharp')
  const sheet = await sharp(file).toColourspace('srgb').removeAlpha().png({ compressionLevel: 0 }).toBuffer()
  return Promise.all(
    frames.map(async (frame, at) => {
      const [left, top] = [(at % columns) * width, Math.floor(at / columns) * height]
      const rgb = await sharp(sheet).extract({ left, top, width, height }).raw().toBuffer()
      const small = { widthPx: width, heightPx: height, rgb: new Uint8Array(rgb) }
      return { trace: traceOf(small), angleDeg: (360 * (frame - (frames[0] ?? 1))) / framesPerTurn }
    }),
  )
}

async function match(asked: MatchAsk): Promise<AidAnswers['match']> {
  const picture = await pictureOf(asked.frame)
  const approvedPicture = await pictureOf(asked.approved)
  const [newest, approved] = [picture, approvedPicture].map(traceOfPicture)
  const told = { ...(await lookedAt(asked.frame, picture)), match: null, doubt: null }
  if (!newest) return told
  if (!approved) return { ...told, doubt: 'The picture of the approved frame cannot be read. Keep it again.' }
  const shape = (newest.widthPx * approved.heightPx) / (newest.heightPx * approved.widthPx)
  if (Math.abs(shape - 1) > sameShape) {
    return {
      ...told,
      doubt:
        'The approved picture has other sides than this frame, so that they cannot be measured against each other. Compare them by eye, or keep the approved frame as the camera wrote it.',
    }
  }
  const widthMm = asked.longSideMm === null ? null : mmPerPixel(asked.longSideMm, newest) * newest.widthPx
  // A picture kept small has fewer pixels: both are held against each other in those of the smaller.
  const isSmaller = approved.widthPx < newest.widthPx
  const [kept, shot] = await Promise.all([
    isSmaller ? approved : traceInSize(approvedPicture, newest),
    isSmaller ? traceInSize(picture, approved) : newest,
  ])
  const pose = asked.strip && startPoseOf(await posesOf(asked.strip), newest, asked.strip.framesPerTurn)
  return kept && shot ? { ...told, match: matchFrames(kept, shot, pose, widthMm) } : told
}

/** Fewer frames before the stop do not tell what a step changes. */
const fewestBefore = 4

async function afterStopOf(asked: AfterStopAsk): Promise<AidAnswers['after stop']> {
  const picture = await pictureOf(asked.frame)
  const pictures = await Promise.all(asked.before.map(pictureOf))
  const again = traceOfPicture(picture)
  const [last, lastFrame] = [pictures.at(-1), asked.before.at(-1)]
  const before = pictures.flatMap((one) => traceOfPicture(one) ?? [])
  const isTold = again && last?.small && before.length >= fewestBefore
  return {
    ...(await lookedAt(asked.frame, picture)),
    beforeUrl: last && lastFrame ? (await lookedAt(lastFrame, last)).pictureUrl : null,
    afterStop: isTold ? afterStop(before, again) : null,
  }
}

async function answer(ask: AidAsk): Promise<AidAnswers[AidAsk['ask']]> {
  switch (ask.ask) {
    case 'centre':
      return centre(ask)
    case 'white':
      return white(ask)
    case 'match':
      return match(ask)
    case 'after stop':
      return afterStopOf(ask)
  }
}

parentPort?.on('message', async ({ id, ask }: AidAsked) => {
  try {
    parentPort?.postMessage({ id, answer: await answer(ask) } satisfies AidTold)
  } catch (error) {
    parentPort?.postMessage({ id, failed: error instanceof Error ? String(error.stack) : String(error) })
  }
})
