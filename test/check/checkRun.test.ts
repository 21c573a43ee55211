import { execFile } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { promisify } from 'node:util'
import sharp from 'sharp'
import { expect, it, onTestFinished } from 'vitest'
import { bugLog } from '../../main/doors/log.ts'
import type { CheckedTake } from '../../main/trade/check/checkedTake.ts'
import type { TakeReport } from '../../main/trade/check/report.ts'
import { type CheckRun, runCheck } from '../../main/work/checkRun.ts'
import type { CheckedFrame } from '../../main/work/checkWorker.ts'
import { hearThreadFaults } from '../../main/work/threadFaults.ts'
import { ticketPicture } from './ticketPicture.ts'

function aFolder(): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-check-'))
  onTestFinished(() => fs.rmSync(folder, { recursive: true, force: true }))
  return folder
}

const patient = { timeout: 15_000 }
const nameOf = (k: number) => `IMG_${String(k + 1).padStart(4, '0')}.JPG`

/** Real JPEGs, each a little brighter than the one before. */
async function shoot(folder: string, from: number, to: number, width = 900, height = 600): Promise<string[]> {
  const names = Array.from({ length: to - from }, (_, k) => nameOf(from + k))
  for (const [k, name] of names.entries()) {
    const background = { r: from + k, g: 120, b: 90 }
    await sharp({ create: { width, height, channels: 3, background } })
      .jpeg({ quality: 90 })
      .toFile(path.join(folder, name))
  }
  return names
}

function aRun() {
  const heard: CheckedFrame[] = []
  const said: string[] = []
  const run: CheckRun = runCheck({
    onFrame: (frame) => heard.push(frame),
    onGone: ({ sentence }) => said.push(sentence),
    onFailed: (sentence) => said.push(sentence),
    onMore: () => said.push('more'),
  })
  onTestFinished(() => run.stop())
  return { run, heard, said }
}

it('says each frame once in the order given, also where more arrive while it reads', async () => {
  const folder = aFolder()
  const first = await shoot(folder, 0, 30)
  // A large frame at the front is done after the small ones behind it.
  await sharp({ create: { width: 4000, height: 3000, channels: 3, background: '#777' } })
    .png({ compressionLevel: 1 })
    .toFile(path.join(folder, 'IMG_0000.PNG'))
  const { run, heard } = aRun()
  run.read(['IMG_0000.PNG', ...first].map((name) => ({ folder, files: [name] })))
  const more = await shoot(folder, 30, 40)
  run.read(more.map((name) => ({ folder, files: [name] })))
  await expect.poll(() => heard.length, patient).toBe(41)
  expect(heard.map(({ place }) => place)).toEqual(Array.from({ length: 41 }, (_, k) => k))
  expect(heard.map(({ facts }) => facts.file)).toEqual(['IMG_0000.PNG', ...first, ...more])
  expect(run.progress()).toEqual({ done: 41, frames: 41 })
})

it('tells of a ticket in the last frame, for the report made anew to hold it', async () => {
  const folder = aFolder()
  const names = await shoot(folder, 0, 4)
  fs.writeFileSync(path.join(folder, nameOf(3)), await ticketPicture('TURNSHEET.1A2F.7', 900, 600))
  const { run, heard, said } = aRun()
  run.read(names.map((name) => ({ folder, files: [name] })))
  await expect.poll(() => said, patient).toEqual(['more'])
  expect(heard).toHaveLength(4)
  const turn = names.map((name, at) => ({ frame: at + 1, folder, files: [name] }))
  const take: CheckedTake = {
    framesPerTurn: 4,
    overlapFrames: 0,
    hasEnded: true,
    turns: 'clockwise',
    pointerSide: null,
    centreChoice: 'least sweep',
    camera: null,
    limits: { flickerMev: 20, lightStepMev: 50, driftMev: 100, centreUm: 1000, marginPpm: 20_000 },
    edgeBand: null,
    otherRows: [],
  }
  const report = await run.report({ take, turn, places: [0, 1, 2, 3] })
  const { findings } = JSON.parse(report?.json ?? '') as TakeReport
  expect(findings.map(({ key }) => key)).toContain('ticket @4')
})

it('gives the picture to look at and the small frame of any frame, in the sizes agreed', async () => {
  const folder = aFolder()
  const names = await shoot(folder, 0, 3, 1800, 1200)
  const { run, heard } = aRun()
  run.read(names.map((name) => ({ folder, files: [name] })))
  const jpeg = await run.viewing(2)
  expect(await sharp(jpeg ?? Buffer.alloc(0)).metadata()).toMatchObject({
    format: 'jpeg',
    width: 512,
    height: 341,
  })
  const large = await run.large(2)
  expect(await sharp(large ?? Buffer.alloc(0)).metadata()).toMatchObject({
    format: 'jpeg',
    width: 1280,
    height: 853,
  })
  const small = await run.small(1)
  expect(small).toMatchObject({ widthPx: 512, heightPx: 341 })
  expect(small?.rgb).toHaveLength(512 * 341 * 3)
  await expect.poll(() => heard.length, patient).toBe(3)
  expect(heard[0]?.facts).toMatchObject({ widthPx: 1800, heightPx: 1200, from: 'picture', trouble: null })
})

it('goes silent when it is stopped, at once, and answers null', async () => {
  const folder = aFolder()
  const names = await shoot(folder, 0, 60)
  const { run, heard, said } = aRun()
  run.read(names.map((name) => ({ folder, files: [name] })))
  await expect.poll(() => heard.length, patient).toBeGreaterThan(0)
  const asked = run.viewing(50)
  run.stop()
  const before = heard.length
  expect(await asked).toBeNull()
  await new Promise((resolve) => setTimeout(resolve, 300))
  expect(heard).toHaveLength(before)
  expect(before).toBeLessThan(60)
  expect(said).toEqual([])
})

it('reads the raw file’s picture where the picture beside it is spoilt, and says why where none can be had', async () => {
  const folder = aFolder()
  const [good = ''] = await shoot(folder, 0, 1)
  fs.writeFileSync(path.join(folder, 'IMG_0002.JPG'), '')
  const { run, heard } = aRun()
  const files = [['IMG_0002.JPG', good], ['IMG_0002.JPG'], ['IMG_0404.JPG']]
  run.read(files.map((ofFrame) => ({ folder, files: ofFrame })))
  await expect.poll(() => heard.length, patient).toBe(3)
  expect(heard[0]?.facts).toMatchObject({ file: good, trouble: null })
  expect(heard[1]?.facts.trouble).toMatchObject({ kind: 'empty' })
  expect(heard[2]?.facts.trouble).toMatchObject({ kind: 'gone' })
  expect(await run.viewing(1)).toBeNull()
})

it('says that its thread broke, and writes down why', async () => {
  const folder = aFolder()
  const log = bugLog(() => folder)
  onTestFinished(hearThreadFaults((where, error) => log.bug(where, error)))
  const { run, said } = aRun()
  // No take is a question that the thread cannot answer: it breaks as by a fault of the program.
  const report = run.report({ take: null as unknown as CheckedTake, turn: [], places: [] })
  expect(await report).toBeNull()
  expect(said).toEqual([expect.stringMatching(/ended by a fault of the program/)])
  const written = fs.readFileSync(path.join(folder, 'studio.log'), 'utf8')
  expect(written).toMatch(/the check of a take’s frames\n.*TypeError(?:.|\n)*reportOf/)
})

it('says once that the folder has gone, not of every frame', async () => {
  const folder = aFolder()
  const [first = ''] = await shoot(folder, 0, 1, 3000, 2000)
  const names = Array.from({ length: 40 }, (_, k) => nameOf(k))
  for (const name of names.slice(1)) fs.copyFileSync(path.join(folder, first), path.join(folder, name))
  const { run, heard, said } = aRun()
  run.read(names.map((name) => ({ folder, files: [name] })))
  await expect.poll(() => heard.length, patient).toBeGreaterThan(2)
  // A card that is drawn is gone at once; a folder that is deleted goes file by file.
  fs.renameSync(folder, `${folder}-drawn`)
  onTestFinished(() => fs.rmSync(`${folder}-drawn`, { recursive: true }))
  await expect.poll(() => said.length, patient).toBe(1)
  expect(said[0]).toContain('is not there any more')
  expect(heard.every(({ facts }) => facts.trouble === null)).toBe(true)
  expect(run.progress().frames).toBe(heard.length)
})

it('lets the program end once it has answered, though nobody stopped it', async () => {
  const folder = aFolder()
  const [name] = await shoot(folder, 0, 1)
  const program = path.join(folder, 'check.mjs')
  fs.writeFileSync(
    program,
    `import { runCheck } from ${JSON.stringify(path.resolve('main/work/checkRun.ts'))}
    const hearer = { onFrame() {}, onGone() {}, onFailed() {} }
    const run = runCheck(hearer)
    run.read([{ folder: ${JSON.stringify(folder)}, files: [${JSON.stringify(name)}] }])
    console.log((await run.viewing(0)).length > 0)`,
  )
  const { stdout } = await promisify(execFile)(process.execPath, [program], { timeout: 20_000 })
  expect(stdout).toBe('true\n')
}, 30_000)
