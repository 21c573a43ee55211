import fs from 'node:fs'
import path from 'node:path'
import { performance } from 'node:perf_hooks'
import sharp from 'sharp'
import type { CheckedTake } from '../../main/trade/check/checkedTake.ts'
import { smallSidePx } from '../../main/work/checkPicture.ts'
import { framesInFlight, runCheck } from '../../main/work/checkRun.ts'

/** What the check of a take's pictures takes. */
export interface CheckTimes {
  readonly frames: number
  readonly megapixels: number
  readonly megabytesOfFile: number
  readonly framesPerSecond: number
  /** With one picture at a time in place of several. */
  readonly oneFramesPerSecond: number
  /** sharp decoding the same files to the same size, as many at a time, and doing nothing else. */
  readonly bareFramesPerSecond: number
  readonly firstFrameMs: number
  /** From the start to the first report, asked for with the first frame as a take's check does. */
  readonly firstReportMs: number
  /** All analyses of all frames, once they are read: the figures of a whole report. */
  readonly wholeReportMs: number
  readonly peakMegabytes: number
}

const frames = 310
const take: CheckedTake = {
  framesPerTurn: frames,
  overlapFrames: 0,
  hasEnded: false,
  turns: 'clockwise',
  centreChoice: 'least sweep',
  camera: null,
  limits: { flickerMev: 20, lightStepMev: 50, driftMev: 100, centreUm: 1000, marginPpm: 20_000 },
  edgeBand: null,
  pointerSide: null,
  otherRows: [],
}
const distinct = 6
const [widthPx, heightPx] = [6000, 4000]

/** Makes 310 JPEGs of 24 megapixels in a folder, and checks them as a take's. */
export async function measureCheck(place: string): Promise<CheckTimes> {
  const folder = path.join(place, 'frames')
  fs.mkdirSync(folder)
  const names = await writeFrames(folder)
  // Half before and half after the check, so that other work on the machine weighs on both alike.
  const half = names.slice(0, frames / 2)
  const bareBeforeMs = await bare(folder, half)
  const whole = await checked(folder, names, framesInFlight)
  const bareMs = bareBeforeMs + (await bare(folder, names.slice(frames / 2)))
  const one = await checked(folder, half, 1)
  const perSecond = (ms: number) => (1000 * frames) / ms
  return {
    frames,
    megapixels: (widthPx * heightPx) / 1e6,
    megabytesOfFile: fs.statSync(path.join(folder, names[0] ?? '')).size / 1e6,
    framesPerSecond: perSecond(whole.ms),
    oneFramesPerSecond: perSecond(2 * one.ms),
    bareFramesPerSecond: perSecond(bareMs),
    firstFrameMs: whole.firstMs,
    firstReportMs: whole.firstReportMs,
    wholeReportMs: whole.wholeReportMs,
    peakMegabytes: whole.peakMegabytes,
  }
}

/** A few distinct pictures with texture and noise, under as many names as a take has frames. */
async function writeFrames(folder: string): Promise<string[]> {
  const names = Array.from({ length: frames }, (_, k) => `IMG_${String(k + 1).padStart(4, '0')}.JPG`)
  for (const [k, name] of names.entries()) {
    const file = path.join(folder, name)
    // To and fro, so that neighbours differ by a step, as in a turn.
    const back = k % (2 * distinct - 2)
    if (k >= distinct)
      fs.linkSync(path.join(folder, names[Math.min(back, 2 * distinct - 2 - back)] ?? ''), file)
    else await (await picture(k)).toFile(file)
  }
  return names
}

async function picture(k: number) {
  const turned = 700 + 120 * k
  const product = Buffer.from(
    `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}"><ellipse cx="3000" cy="3300" rx="1900" ry="300" fill="#555" fill-opacity="0.6"/><rect x="${3000 - turned}" y="900" width="${2 * turned}" height="2400" rx="80" fill="hsl(${25 + 9 * k}, 45%, 40%)" fill-opacity="0.85"/></svg>`,
  )
  const noise = { type: 'gaussian', mean: 150, sigma: 9 } as const
  // A tile of noise over and over: making 24 megapixels of it would take longer than checking them.
  const grain = await sharp({ create: { width: 500, height: 500, channels: 3, background: '#999', noise } })
    .png()
    .toBuffer()
  return sharp({ create: { width: widthPx, height: heightPx, channels: 3, background: '#999' } })
    .composite([{ input: grain, tile: true }, { input: product }])
    .jpeg({ quality: 92 })
}

async function bare(folder: string, names: readonly string[]): Promise<number> {
  sharp.concurrency(1)
  const waiting = [...names]
  const start = performance.now()
  const decodeAll = async () => {
    for (let name = waiting.shift(); name !== undefined; name = waiting.shift()) {
      await sharp(path.join(folder, name), { failOn: 'truncated' })
        .autoOrient()
        .resize({ width: smallSidePx, height: smallSidePx, fit: 'inside' })
        .toColourspace('srgb')
        .raw()
        .toBuffer()
    }
  }
  await Promise.all(Array.from({ length: framesInFlight }, decodeAll))
  return performance.now() - start
}

async function checked(folder: string, names: readonly string[], inFlight: number) {
  const turn = names.map((name, at) => ({ frame: at + 1, folder, files: [name] }))
  const start = performance.now()
  let firstMs = 0
  let firstReportMs = 0
  let [ms, wholeReportMs] = [0, 0]
  let peak = 0
  const sampler = setInterval(() => {
    peak = Math.max(peak, process.memoryUsage.rss())
  }, 20)
  await new Promise<void>((resolve, reject) => {
    const run = runCheck(
      {
        onFrame({ place, facts }) {
          if (place === 0) {
            firstMs = performance.now() - start
            void run.report({ take, turn, places: turn.map((_, at) => (at === 0 ? at : null)) }).then(() => {
              firstReportMs = performance.now() - start
            })
          }
          if (facts.trouble) reject(new Error(facts.trouble.sentence))
          if (place < names.length - 1) return
          ms = performance.now() - start
          void run.report({ take, turn, places: turn.map((_, at) => at) }).then(() => {
            wholeReportMs = performance.now() - start - ms
            run.stop()
            resolve()
          })
        },
        onGone: ({ sentence }) => reject(new Error(sentence)),
        onFailed: (sentence) => reject(new Error(sentence)),
      },
      { inFlight },
    )
    run.read(names.map((name) => ({ folder, files: [name] })))
  }).finally(() => clearInterval(sampler))
  return { ms, firstMs, firstReportMs, wholeReportMs, peakMegabytes: peak / 2 ** 20 }
}
