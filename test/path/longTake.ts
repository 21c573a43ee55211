import path from 'node:path'
import type { Page } from 'playwright-core'
import { expect } from 'vitest'
import { openStore } from '../../db/open.ts'
import { framesOf, pausesOf } from '../../db/takeFrames.ts'
import { aRig, aStoredJob } from '../rigs/builders.ts'
import { aStudio } from '../studio.ts'
import { dialog, follow, press, see } from './person.ts'

/** A turn of 244 frames and 82 more as overlap. */
const framesPerTurn = 244
const overlapFrames = 82

/**
 * How far a kept time may lie from the press: the test reads its own clock before and after it sends the key,
 * and a busy computer is slow to carry either.
 */
const toleranceMs = 300

/** A program at whose bench a take is turned, and what can happen to it. */
export interface LongTakeDoor {
  /** The page, another one after `kill`. */
  page(): Page
  /** Kills the program, as a crash would, while the person goes on, and starts it again. */
  kill(goOn: () => Promise<void>): Promise<void>
  /** Cuts the page from the studio, and mends it. */
  cut(): Promise<void>
  mend(): Promise<void>
  /** Closes the program, so that its store can be read. */
  close(): Promise<void>
}

/** A studio on disk with one spin to turn, closed; it is gone when the test has finished. */
export async function aStudioToTurn(): Promise<string> {
  const studio = aStudio({ now: new Date().toISOString() })
  await aStoredJob(studio, [{ name: 'Kettle' }])
  studio.db
    .prepare('UPDATE shoot_row SET frames_per_turn = ?, overlap_frames = ?')
    .run(framesPerTurn, overlapFrames)
  const { rigRevisionId } = await aRig(studio)
  const { settingsId } = await studio.api.settings.add({
    focusMm: null,
    apertureCenti: 1100,
    apertureHeld: 'held',
    shutterNum: 1,
    shutterDen: 125,
    iso: 100,
    whiteBalanceK: 5500,
    development: null,
    note: null,
    rows: [{ viewAngleDeg: 0, framesPerTurn, overlapFrames }],
  })
  studio.db.prepare('UPDATE shoot SET rig_revision_id = ?, settings_id = ?').run(rigRevisionId, settingsId)
  studio.house.leave()?.close()
  return studio.folder
}

interface Pressed {
  readonly beforeMs: number
  readonly afterMs: number
  mark: number
  isVoid: boolean
}

/** The person at the bench, who writes down every press with its time. */
class Turner {
  readonly frames: Pressed[] = []
  readonly pauses: Pressed[] = []
  readonly #door: LongTakeDoor
  #next = 0

  constructor(door: LongTakeDoor) {
    this.#door = door
  }

  /** Shoots until so many marks are done. */
  async shootTo(marks: number): Promise<void> {
    while (this.#next < marks) {
      // A page-turner now and then, as the hand lies.
      const at = await this.#key(this.frames.length % 7 === 3 ? 'PageDown' : 'Space')
      this.frames.push({ ...at, mark: this.#next })
      this.#next += 1
    }
  }

  async voidLast(key: 'Backspace' | 'PageUp'): Promise<void> {
    await this.#key(key)
    const last = this.frames.findLast(({ isVoid }) => !isVoid)
    if (!last) throw new Error('There is no frame to make void.')
    last.isVoid = true
    this.#next -= 1
  }

  async pause(ms: number): Promise<void> {
    this.pauses.push(await this.#key('p'))
    await see(this.#door.page(), 'paused at')
    await new Promise((resolve) => setTimeout(resolve, ms))
    this.pauses.push(await this.#key('p'))
    await see(this.#door.page(), 'turn to')
  }

  async fault(kind: string): Promise<number> {
    await this.#door.page().keyboard.press('f')
    const asked = await dialog(this.#door.page(), /^A fault at frame/)
    await press(asked, kind)
    const next = await dialog(this.#door.page(), new RegExp(`^${kind} at frame`, 'i'))
    await press(next, 'Go on as it is')
    await next.waitFor({ state: 'detached' })
    return this.frames.length
  }

  async #key(key: string): Promise<Pressed> {
    const beforeMs = Date.now()
    await this.#door.page().keyboard.press(key)
    return { beforeMs, afterMs: Date.now(), mark: 0, isVoid: false }
  }
}

/**
 * Turns a take by keys, with two voids, a pause and two faults, over a killed program and a cut network, and
 * reads back from the store that it holds exactly the frames that were pressed, at their times.
 */
export async function turnALongTake(door: LongTakeDoor, folder: string): Promise<void> {
  const turner = new Turner(door)
  await startTheTake(door.page())
  await turner.shootTo(60)
  await turner.voidLast('Backspace')
  await turner.shootTo(80)
  await see(door.page(), 'frame 81 kept, 1 void')
  await turner.pause(1500)
  const flickerAt = await turner.fault('flicker')
  await turner.shootTo(100)
  await see(door.page(), 'frame 101 kept, 1 void')
  await door.kill(async () => {
    await turner.shootTo(103)
    await see(door.page(), /kept on this (tablet|computer), 3\sframes to send/)
  })
  const running = door.page().getByRole('region', { name: 'At the bench now' })
  await see(running, 'Take 1 of Kettle is running, frame 103 of 244.')
  await running.getByRole('link', { name: 'Go on with it' }).click()
  await see(door.page(), 'frame 104 kept, 1 void')
  await turner.shootTo(200)
  await see(door.page(), 'frame 201 kept, 1 void')
  await door.cut()
  await turner.shootTo(230)
  await turner.voidLast('PageUp')
  await turner.shootTo(240)
  const bumpAt = await turner.fault('bump')
  await see(door.page(), /kept on this (tablet|computer), 41\sframes and 2\sother acts to send/)
  await door.mend()
  await see(door.page(), 'frame 242 kept, 2 void')
  await turner.shootTo(framesPerTurn + overlapFrames)
  await see(door.page(), 'The turn is closed')
  await door.page().keyboard.press('e')
  await see(door.page(), '328 frames shot, 2 void')
  await press(door.page(), 'Keep the take')
  await see(door.page(), 'Kept.')
  await door.close()
  compare(turner, folder, [
    { kind: 'flicker', frame: flickerAt },
    { kind: 'bump', frame: bumpAt },
  ])
}

/** Starts the take of the studio's one spin. */
export async function startTheTake(page: Page): Promise<void> {
  page.setDefaultTimeout(20_000)
  await page
    .getByRole('link', { name: /J-2026-001/ })
    .first()
    .waitFor()
  await page.evaluate(() => {
    window.history.pushState(null, '', '/jobs/1/takes')
    window.dispatchEvent(new PopStateEvent('popstate'))
  })
  await follow(page, 'Start a take')
  await press(page, 'Start the take')
  await see(page, 'turn to')
}

function compare(
  turner: Turner,
  folder: string,
  faults: readonly { readonly kind: string; readonly frame: number }[],
): void {
  const db = openStore(path.join(folder, 'studio.db'), { readonly: true })
  try {
    const take = db.prepare('SELECT id, started_at, verdict, frames_shot FROM take').get() as {
      readonly id: never
      readonly started_at: string
      readonly verdict: string
      readonly frames_shot: number
    }
    expect(take).toMatchObject({ verdict: 'keep', frames_shot: turner.frames.length })
    const frames = framesOf(db, take.id)
    expect(frames.map(({ mark, isVoid }) => [mark, isVoid])).toEqual(
      turner.frames.map(({ mark, isVoid }) => [mark, isVoid]),
    )
    const startedMs = Date.parse(take.started_at)
    const off = (offsetMs: number, { beforeMs, afterMs }: Pressed) =>
      Math.max(0, beforeMs - startedMs - offsetMs, startedMs + offsetMs - afterMs)
    const offs = frames.map(({ offsetMs }, index) => off(offsetMs, turner.frames[index] as Pressed))
    expect(Math.max(...offs)).toBeLessThanOrEqual(toleranceMs)
    const pauses = pausesOf(db, take.id).flatMap(({ fromMs, toMs }) => [fromMs, toMs ?? 0])
    expect(pauses).toHaveLength(turner.pauses.length)
    pauses.forEach((ms, index) => {
      expect(off(ms, turner.pauses[index] as Pressed)).toBeLessThanOrEqual(toleranceMs)
    })
    expect(db.prepare('SELECT kind, frame FROM take_fault ORDER BY id').all()).toEqual(faults)
  } finally {
    db.close()
  }
}
