import { type TakeToCheck, takeToCheck } from '../../db/checkedTakes.ts'
import { keepContactStrip } from '../../db/contactStrips.ts'
import type { Id } from '../../db/ids.ts'
import { prepared } from '../../db/statement.ts'
import { keepCheck } from '../../db/takeChecks.ts'
import type { OpenStudio } from '../api/house.ts'
import { noSettings } from '../trade/check/files/exifSettings.ts'
import type { FrameFacts } from '../trade/check/files/frameFacts.ts'
import { traceOf } from '../trade/check/outline/trace.ts'
import { reportOf } from '../trade/check/reportOf.ts'
import type { SmallFrame } from '../trade/check/smallFrame.ts'
import type { Turn } from '../trade/check/turnFrames.ts'
import { contactSheet } from '../work/contactSheet.ts'
import { framesForStrip } from '../work/contactStrip.ts'
import { type Chance, chanceOf } from './chance.ts'
import { type Drawn, jpegOf, turnedFrame } from './frameOne.ts'
import type { Api } from './setUp.ts'

/** What happened at a take's frames: light in EV, steps turned, off the axis in pixels of the drawing. */
interface Mishap {
  readonly lightEv: (frame: number, frames: number) => number
  readonly steps: (frame: number, frames: number) => number
  readonly offsetPx: number
}

interface ToDraw {
  readonly count: number
  readonly framesPerTurn: number
  readonly product: Drawn
  readonly mishap: Mishap
  readonly chance: Chance
}

const even: Mishap = { lightEv: () => 0, steps: () => 1, offsetPx: 0 }

/** The newest takes have been checked, one of each kind; those before them have their strips alone. */
const mishaps: readonly Mishap[] = [
  // A lamp was knocked past the middle of the turn.
  { ...even, lightEv: (frame, frames) => (frame > frames * 0.6 ? -0.14 : 0) },
  // A mark was left out, and the product stands off the axis.
  { ...even, steps: (frame, frames) => (frame === Math.round(frames * 0.3) ? 2 : 1), offsetPx: 9 },
]
const strips = 3

/** Sides of the frames that are checked and of those on the strip, as parts of the drawing's. */
const checkedPart = 0.25
const stripPart = 0.4

/** The most frames that are drawn for one take: the demo is to be made quickly. */
const mostFrames = 100

/**
 * Some of the demo's newest kept takes have been checked: their frames are drawn, read by the check's own functions
 * and let go, as if the card were back in the camera. What was found is answered for by the owner.
 */
export async function checkTakes(studio: OpenStudio, api: Api): Promise<void> {
  const { db } = studio
  const takes = prepared<[number, number], { id: Id<'take'>; productId: number }>(
    db,
    `SELECT take.id, min(sp.product_id) AS productId FROM take JOIN shoot_product sp ON sp.shoot_id = take.shoot_id
     WHERE take.verdict = 'keep' AND take.frames_per_turn <= ? GROUP BY take.id
     ORDER BY take.started_at DESC LIMIT ?`,
  ).all(mostFrames, strips)
  for (const [at, { id, productId }] of takes.entries()) {
    const { product } = await api.products.one({ productId })
    const known = takeToCheck(studio.db, id)
    if (!known) continue
    const mishap = mishaps[at]
    const turn: Turn = known.frames.map((_, index) => ({
      frame: index + 1,
      folder: cardFolder,
      files: [fileName(index + 1)],
    }))
    const drawn = { count: turn.length, product, mishap: mishap ?? even, chance: chanceOf(at + 1) }
    const take = { id, known, turn, draw: { ...drawn, framesPerTurn: known.take.framesPerTurn } }
    if (mishap) {
      await keepReport(studio, take)
      await answerFindings(api, id)
    }
    await keepSheet(studio, take)
  }
}

const cardFolder = '/camera card/DCIM/100SPINS'

interface DemoTake {
  readonly id: Id<'take'>
  readonly known: TakeToCheck
  readonly turn: Turn
  readonly draw: ToDraw
}

async function keepReport({ db, now }: OpenStudio, { id, known, turn, draw }: DemoTake): Promise<void> {
  const frames = await drawTurn(draw, checkedPart, () => true)
  const seen = [...frames].map(([frame, small]) => ({
    facts: factsOf(fileName(frame), small),
    trace: traceOf(small),
    band: null,
  }))
  const report = reportOf(known.take, turn, seen)
  keepCheck({ db, now: now().toISOString() }, id, {
    folders: [cardFolder],
    framesRead: report.framesRead,
    report: JSON.stringify(report),
  })
}

async function keepSheet(studio: OpenStudio, { id, turn, draw }: DemoTake): Promise<void> {
  const { db, folder, owner: who } = studio
  const frames = framesForStrip(turn, draw.framesPerTurn).map(({ frame }) => frame)
  const drawn = await drawTurn(draw, stripPart, (frame) => frames.includes(frame))
  const sheet = await contactSheet([...drawn.values()].map((small) => () => jpegOf(small)))
  const now = studio.now().toISOString()
  if (sheet) keepContactStrip({ db, folder, who, now }, id, { ...sheet, frames })
}

/** The frames of a turn by their numbers, those that are wanted. */
async function drawTurn(
  { count, framesPerTurn, product, mishap, chance }: ToDraw,
  part: number,
  wanted: (frame: number) => boolean,
): Promise<Map<number, SmallFrame>> {
  const frames = new Map<number, SmallFrame>()
  let turned = 0
  for (let frame = 1; frame <= count; frame += 1) {
    if (wanted(frame)) {
      const small = await turnedFrame(product, (360 * turned) / framesPerTurn, mishap.offsetPx, part)
      expose(small, mishap.lightEv(frame, count), chance)
      frames.set(frame, small)
    }
    turned += mishap.steps(frame, count)
  }
  return frames
}

/** Makes a drawn frame lighter or darker, with the noise of a sensor. sRGB is near enough to a power of 2.2 here. */
function expose({ rgb }: SmallFrame, ev: number, chance: Chance): void {
  const codes = Uint8Array.from({ length: 256 }, (_, code) =>
    Math.min(255, Math.round(code * 2 ** (ev / 2.2) * 0.97)),
  )
  for (let at = 0; at < rgb.length; at += 1) {
    rgb[at] = (codes[rgb[at] ?? 0] ?? 0) + Math.floor(3 * chance.fraction())
  }
}

function factsOf(file: string, { widthPx, heightPx }: SmallFrame): FrameFacts {
  return {
    file,
    bytes: 24_000_000,
    contentHash: null,
    from: 'picture',
    widthPx: widthPx * 40,
    heightPx: heightPx * 40,
    orientation: 1,
    time: null,
    settings: noSettings,
    trouble: null,
    ticket: null,
  }
}

function fileName(frame: number): string {
  return `SPIN${String(frame).padStart(4, '0')}.JPG`
}

/** The first fault that was found is agreed to, the next waved off; others wait. */
async function answerFindings(api: Api, takeId: Id<'take'>): Promise<void> {
  const { report } = await api.takeCheck.report({ takeId })
  const [first, second] = report?.findings.filter(({ fault }) => fault !== null) ?? []
  if (first) await api.takeCheck.agree({ takeId, key: first.key })
  if (second) await api.takeCheck.waveOff({ takeId, key: second.key, note: 'Not to be seen in the loop.' })
}
