import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import sharp from 'sharp'
import { expect, it, onTestFinished } from 'vitest'
import type { ExpectedSpin } from '../../main/trade/check/files/expectedSpin.ts'
import { takesFound } from '../../main/trade/check/files/takesFound.ts'
import { ticketText } from '../../main/trade/ticketCode.ts'
import { sortingOf, startSorting, stopSorting } from '../../main/work/cardSorting.ts'
import { aStudio } from '../studio.ts'
import { ticketPicture } from './ticketPicture.ts'

const zone = 'Europe/Berlin'
const [widthPx, heightPx] = [1200, 800]

function aCard(): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-card-'))
  onTestFinished(() => fs.rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** A box that turns before a grey backdrop. */
function turned(step: number): Promise<Buffer> {
  const half = Math.round(180 + 120 * Math.abs(Math.cos(step / 3)))
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}"><rect width="100%" height="100%" fill="#8a8a86"/><rect x="${600 - half}" y="200" width="${2 * half}" height="500" fill="hsl(${20 + step}, 40%, 40%)"/></svg>`
  return sharp(Buffer.from(svg)).jpeg({ quality: 85 }).toBuffer()
}

/** Writes pictures as a camera does, 6 s apart, on to the card; its clock is local. */
class Camera {
  #second: number
  #number: number
  readonly #folder: string
  constructor(folder: string, number: number, second: number) {
    this.#folder = folder
    this.#number = number
    this.#second = second
  }

  async write(jpeg: Buffer): Promise<void> {
    const at = new Date(Date.UTC(2026, 2, 2, 9, 0, this.#second)).toISOString()
    const DateTimeOriginal = `${at.slice(0, 10).replaceAll('-', ':')} ${at.slice(11, 19)}`
    const name = `IMG_${String(this.#number).padStart(4, '0')}.JPG`
    const whole = await sharp(jpeg).withExif({ IFD2: { DateTimeOriginal } }).jpeg({ quality: 88 }).toBuffer()
    fs.writeFileSync(path.join(this.#folder, name), whole)
    this.#number = (this.#number % 9999) + 1
    this.#second += 6
  }

  wait(seconds: number): void {
    this.#second += seconds
  }
}

const turn = 9
const spinOf = (shootId: number): ExpectedSpin => ({
  shootId,
  label: `KN-0${shootId}`,
  rows: [{ turnFrames: turn, toShoot: turn + 1 }],
  place: shootId - 1,
})

it('five cards sort themselves in one go by the tickets photographed on them', async () => {
  const { db } = aStudio()
  const key = '1A2F'
  const frames = await Promise.all(Array.from({ length: turn + 1 }, (_, step) => turned(step)))
  const ticket = (shootId: number) =>
    ticketPicture(ticketText({ studioKey: key, shootId, product: null }), widthPx, heightPx)
  const folders: string[] = []
  for (let card = 0; card < 5; card += 1) {
    const folder = aCard()
    folders.push(folder)
    // The second card passes from 9999 to 0001.
    const camera = new Camera(folder, card === 1 ? 9995 : 100 * card + 1, card * 2000)
    await camera.write(await ticket(2 * card + 1))
    for (const frame of frames) await camera.write(frame)
    camera.wait(300)
    await camera.write(await ticket(2 * card + 2))
    // On the third card the second take was begun, its ticket shown again without a pause, and done.
    const begun = card === 2 ? 5 : 0
    for (const frame of frames.slice(0, begun)) await camera.write(frame)
    if (begun > 0) await camera.write(await ticket(2 * card + 2))
    for (const frame of frames.slice(0, card === 4 ? 4 : turn)) await camera.write(frame)
  }
  fs.writeFileSync(path.join(folders[3] ?? '', 'IMG_0290.JPG'), 'no picture at all')

  await startSorting(db, 1, folders, zone)
  await expect.poll(() => sortingOf(db, 1)?.state, { timeout: 60_000, interval: 50 }).toBe('done')
  const sorting = sortingOf(db, 1)
  if (sorting?.state !== 'done') throw new Error('not done')
  const takes = takesFound(
    sorting.cards,
    Array.from({ length: 10 }, (_, index) => spinOf(index + 1)),
    key,
  )
  expect(
    takes
      .filter(({ standing }) => standing !== 'not named')
      .map(({ spin, standing, frames }) => [spin?.shootId, standing, frames.length]),
  ).toEqual([
    [1, 'whole', turn + 1],
    [2, 'whole', turn],
    [3, 'whole', turn + 1],
    [4, 'whole', turn],
    [5, 'whole', turn + 1],
    [6, 'started over', 5],
    [6, 'whole', turn],
    [7, 'whole', turn + 1],
    [8, 'whole', turn],
    [9, 'whole', turn + 1],
    [10, 'short', 4],
  ])
  expect(takes[0]).toMatchObject({ startMs: Date.UTC(2026, 2, 2, 8, 0, 6), medianStepMs: 6000 })
  // The spoilt file is a frame of its own, by its own time: nothing is lost, nothing stops.
  expect(takes.flatMap(({ frames }) => frames.map(({ file }) => file))).toContain('IMG_0290.JPG')
}, 90_000)

it('can be stopped, says how far it is, and refuses folders that are not there, named twice, or none', async () => {
  const { db } = aStudio()
  const folder = aCard()
  const jpeg = await turned(0)
  for (let k = 1; k <= 80; k += 1)
    fs.writeFileSync(path.join(folder, `IMG_${String(k).padStart(4, '0')}.JPG`), jpeg)
  await startSorting(db, 1, [folder], zone)
  expect(sortingOf(db, 1)).toMatchObject({ state: 'reading', frames: 80 })
  stopSorting(db, 1)
  expect(sortingOf(db, 1)).toEqual({ state: 'stopped', folders: [folder] })
  await expect(startSorting(db, 1, [folder, folder], zone)).rejects.toThrow('named twice')
  await expect(startSorting(db, 1, [], zone)).rejects.toThrow('from 1 to 20')
  await expect(startSorting(db, 1, [`${folder}/none`], zone)).rejects.toThrow('There is no folder')
})
