import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import axe from 'axe-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type Db, openStore } from '../../db/open.ts'
import { cssPixelMm, farMm, heightArcmin, leastLetterArcmin, nearMm } from '../../main/trade/benchSight.ts'
import { type ToneKind, toneOf } from '../../main/trade/benchTones.ts'
import { dialog, press, see } from '../path/person.ts'
import { aReadySpin } from './aReadySpin.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

const sizes = [
  { width: 1280, height: 800 },
  { width: 1024, height: 768 },
  { width: 768, height: 1024 },
  { width: 1920, height: 1080 },
] as const

const framesPerTurn = 12
const overlapFrames = 2
const rows = [0, 15_000, 30_000].map((angleMdeg) => ({ angleMdeg, framesPerTurn, overlapFrames }))

describeBrowser('the bench screen', () => {
  const place = mkdtempSync(join(tmpdir(), 'turnsheet-bench-'))
  let open: OpenBrowser
  let db: Db
  let shootId = 0
  const go = (address: string) => open.page.goto(new URL(address, open.host.address).href)
  const newestTake = () => Number(db.prepare('SELECT max(id) FROM take').pluck().get())
  const frames = () =>
    db
      .prepare<[number], { at: string; isVoid: number; mark: number }>(
        'SELECT at, is_void AS isVoid, mark FROM take_frame WHERE take_id = ? ORDER BY frame',
      )
      .all(newestTake())
  const keepsFrames = (count: number) => expect.poll(() => frames().length, { timeout: 5000 }).toBe(count)
  /** Pitches of all notes that were really started, rounded, since this was last asked. */
  const heard = () =>
    open.page.evaluate(() => (window as unknown as { heard: number[] }).heard.splice(0).map(Math.round))
  const pitches = (...kinds: readonly ToneKind[]) =>
    kinds.flatMap((kind) => toneOf(kind).map(({ hz }) => Math.round(hz)))

  beforeAll(async () => {
    const studio = join(place, 'studio')
    shootId = await aReadySpin(studio, rows)
    open = await openBrowser(studio)
    await open.context.addInitScript(axe.source)
    // Counts what the page's own audio graph starts; every note sounds all the same.
    await open.context.addInitScript(() => {
      const notes: number[] = []
      Object.assign(window, { heard: notes })
      const start = OscillatorNode.prototype.start
      OscillatorNode.prototype.start = function (when) {
        if (this.context.state === 'running') notes.push(this.frequency.value)
        start.call(this, when)
      }
    })
    db = openStore(join(studio, 'studio.db'), { readonly: true })
  }, 180_000)
  afterAll(async () => {
    db?.close()
    await open?.close()
    rmSync(place, { recursive: true, force: true })
  })

  it('shows before the take what to fetch, to prepare and to look at, and holds nothing back', async () => {
    const { page } = open
    await go(`/takes/of/${shootId}`)
    await see(page, 'Getting it ready')
    const room = page.getByText(/The card has room for 42 frames/)
    // 3 rows of 12 and 2 frames: 42.
    await room.waitFor()
    await page.getByLabel(/^Take loose labels|^Tuck labels/).check()
    await see(page, /^Getting it ready 1 of \d$/)
    expect(await wrongWith(open)).toEqual([])
    await press(page, 'Start the take')
    const busy = page.getByRole('dialog', { name: 'Go on all the same?' })
    await Promise.race([busy.waitFor(), page.waitForURL(/\/takes\/\d+$/)])
    if (await busy.isVisible()) {
      await busy.getByLabel('Why it is right to go on').fill('The other take stands still.')
      await press(busy, 'Start it all the same')
    }
    await page.waitForURL(/\/takes\/\d+$/)
    await see(page, 'Row 1 of 3')
  })

  it('is read from two metres and pressed with a glove, at every size', async () => {
    const { page } = open
    await page.keyboard.press('Space')
    await see(page, `1 of ${framesPerTurn}`)
    for (const size of sizes) {
      await page.setViewportSize(size)
      await page.waitForFunction(() => document.fonts.status === 'loaded')
      const seen = await page.evaluate(measureBench)
      const at = `${size.width} × ${size.height}`
      expect(seen.markPx / size.height, `the mark at ${at}`).toBeGreaterThanOrEqual(0.1)
      expect(seen.far.length).toBeGreaterThan(2)
      for (const { text, capPx } of seen.far) {
        const arcmin = heightArcmin(capPx * cssPixelMm, farMm)
        expect(arcmin, `“${text}” from two metres at ${at}`).toBeGreaterThanOrEqual(leastLetterArcmin)
      }
      for (const { text, capPx, width, height, isWithin } of seen.buttons) {
        expect(Math.min(width, height), `“${text}” at ${at}`).toBeGreaterThanOrEqual(64)
        expect(heightArcmin(capPx * cssPixelMm, nearMm), `“${text}”`).toBeGreaterThanOrEqual(
          leastLetterArcmin,
        )
        expect(isWithin, `“${text}” is on the screen at ${at}`).toBe(true)
      }
    }
    await page.setViewportSize(sizes[0])
  })

  it('hears what remotes send, and a key that was given to it, also after a reload', async () => {
    const { page } = open
    await page.keyboard.press('PageDown')
    await page.keyboard.press('ArrowRight')
    await keepsFrames(3)
    await page.keyboard.press('PageUp')
    await expect.poll(() => frames().filter(({ isVoid }) => isVoid).length).toBe(1)
    await press(page, 'Sound, beat, keys')
    const setUp = await dialog(page, 'Sound, beat and keys of this device')
    await see(setUp, /no voice for the studio’s language/)
    expect(await wrongWith(open)).toEqual([])
    await press(setUp, 'Frame')
    await page.keyboard.press('F8')
    await setUp.getByRole('button', { name: 'Take F8 away from Frame' }).waitFor()
    await press(setUp, 'Close')
    await page.reload()
    await see(page, `2 of ${framesPerTurn}`)
    await page.keyboard.press('F8')
    await keepsFrames(4)
    await see(page, `3 of ${framesPerTurn}`)
  })

  it('sounds a press, a tenth, the seam and the end, each with its own notes, and nothing once it is muted', async () => {
    const { page } = open
    await heard()
    await page.keyboard.press('Space')
    await see(page, `4 of ${framesPerTurn}`)
    await expect.poll(heard).toEqual(pitches('press'))
    for (let frame = 5; frame <= framesPerTurn + overlapFrames; frame += 1) {
      await page.keyboard.press('Space')
      await keepsFrames(frame + 1)
      await see(
        page,
        frame <= framesPerTurn ? `${frame} of ${framesPerTurn}` : `overlap ${frame - framesPerTurn} of`,
      )
    }
    const kinds: ToneKind[] = []
    for (let frame = 5; frame <= framesPerTurn + overlapFrames; frame += 1) {
      kinds.push(frame === 10 ? 'tenth' : frame === 12 ? 'seam' : frame === 14 ? 'end' : 'press')
    }
    expect(await heard()).toEqual(pitches(...kinds))
    await see(page, 'The turn is closed')
    await page.keyboard.press('s')
    await page.keyboard.press('Backspace')
    await see(page, `overlap 1 of ${overlapFrames}`)
    await page.keyboard.press('Space')
    await see(page, 'The turn is closed')
    expect(await heard()).toEqual([])
    await page.keyboard.press('s')
  })

  it('goes back to a mark in two presses, and marks a fault by a digit with what to do about it', async () => {
    const { page } = open
    await page.keyboard.press('b')
    const back = await dialog(page, 'Back to a mark')
    expect(await wrongWith(open)).toEqual([])
    // The third of the last ten marks, 14, 13, 12: the turn and its overlap.
    await page.keyboard.press('3')
    await back.waitFor({ state: 'detached' })
    await see(page, `11 of ${framesPerTurn}`)
    await page.keyboard.press('2')
    const bump = await dialog(page, /^Bump at frame/)
    await see(bump, /go back to this mark; where one of them moved, start over/)
    expect(await wrongWith(open)).toEqual([])
    await page.keyboard.press('1')
    await bump.waitFor({ state: 'detached' })
    await see(page, `10 of ${framesPerTurn}`)
    expect(db.prepare('SELECT kind FROM take_fault WHERE take_id = ?').pluck().all(newestTake())).toEqual([
      'bump',
    ])
    await page.keyboard.press('F5')
    await see(page, 'paused at')
    expect(await wrongWith(open)).toEqual([])
  })

  it('counts by the paced beat, a frame at each shoot, and keeps the clock', async () => {
    const { page } = open
    await press(page, 'Sound, beat, keys')
    const setUp = await dialog(page, 'Sound, beat and keys of this device')
    await press(setUp, 'The beat: each ‘shoot’')
    for (const [cue, seconds] of [
      ['Move', '0.3'],
      ['Wait', '0.2'],
      ['Shoot', '0.3'],
    ] as const) {
      await setUp.getByLabel(cue, { exact: true }).fill(seconds)
      await setUp.getByLabel(cue, { exact: true }).blur()
    }
    await see(setUp, /0\.8\s+?s a frame on this device/)
    await press(setUp, 'Close')
    await page.keyboard.press('e')
    await press(await dialog(page, 'End the take here?'), 'Leave it')
    await page.keyboard.press('Space')
    const before = frames().length
    await page.keyboard.press('t')
    // Two frames of the turn and two of overlap are left: four beats, and then it stands still by itself.
    await see(page, 'The turn is closed')
    await keepsFrames(before + 4)
    await page.waitForTimeout(1200)
    expect(db.prepare('SELECT counted_by FROM take WHERE id = ?').pluck().get(newestTake())).toBe('beat')
    const beats = frames().slice(before)
    expect(beats).toHaveLength(4)
    const [first] = beats
    for (const [index, { at }] of beats.entries()) {
      const lateMs = Date.parse(at) - Date.parse(first?.at ?? '') - index * 800
      expect(Math.abs(lateMs), `beat ${index + 1}`).toBeLessThan(150)
    }
  })

  it('asks at the end for the verdict and the faults alone, and offers the next row at once', async () => {
    const { page } = open
    await page.keyboard.press('e')
    await see(page, 'Or what is wrong with it')
    expect(await wrongWith(open)).toEqual([])
    await press(page, 'Keep the take')
    await see(page, 'Kept.')
    await see(page, 'Row 2 of 3')
    await see(page, /looking 15° down/)
    await nextTake('Turn the next row')
    await see(page, 'Row 2 of 3')
    expect(await wrongWith(open)).toEqual([])
  })

  it('starts the next take at once where one is rejected', async () => {
    const { page } = open
    const rejected = newestTake()
    await page.keyboard.press('e')
    await press(await dialog(page, 'End the take here?'), 'End the take')
    await see(page, 'Or what is wrong with it')
    await page.keyboard.press('8')
    await press(page, 'Reject and start again')
    await expect.poll(newestTake).toBeGreaterThan(rejected)
    await see(page, 'turn to')
    expect(db.prepare('SELECT verdict, verdict_reason FROM take WHERE id = ?').raw().get(rejected)).toEqual([
      'reject',
      'product moved',
    ])
    expect(open.complaints).toEqual([])
  })

  /** Presses what starts the next take, and says why where the bench is busy. */
  async function nextTake(button: string): Promise<void> {
    const { page } = open
    const before = newestTake()
    await press(page, button)
    const busy = page.getByRole('dialog', { name: 'Go on all the same?' })
    await Promise.race([busy.waitFor(), expect.poll(newestTake).toBeGreaterThan(before)])
    if (await busy.isVisible()) {
      await busy.getByLabel('Why it is right to go on').fill('The other take stands still.')
      await press(busy, 'Start it all the same')
    }
    await expect.poll(newestTake).toBeGreaterThan(before)
  }
})

/** What axe finds on the page against A and AA up to WCAG 2.2, as sentences. */
async function wrongWith({ page }: OpenBrowser): Promise<string[]> {
  const { violations } = await page.evaluate(() =>
    (window as unknown as { axe: typeof axe }).axe.run({
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
      resultTypes: ['violations'],
    }),
  )
  return violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.target.join(' ')} ${nodes[0]?.failureSummary}`)
}

/** In the page: heights of capitals in px, as the font draws them, and the sides of what is pressed. */
function measureBench() {
  const pen = document.createElement('canvas').getContext('2d')
  const capPx = (element: Element, letter = 'H') => {
    const { fontStyle, fontWeight, fontSize, fontFamily } = getComputedStyle(element)
    if (!pen) throw new Error('No canvas.')
    pen.font = `${fontStyle} ${fontWeight} ${fontSize} ${fontFamily}`
    return pen.measureText(letter).actualBoundingBoxAscent
  }
  const all = (selector: string) => [...document.querySelectorAll(selector)]
  const mark = document.querySelector('[data-mark]')
  if (!mark) throw new Error('No mark is shown.')
  return {
    markPx: capPx(mark, '0'),
    far: all('[data-far]').map((one) => ({ text: one.textContent, capPx: capPx(one) })),
    buttons: all('button').map((one) => {
      const { width, height, bottom, right } = one.getBoundingClientRect()
      const isWithin = bottom <= window.innerHeight && right <= window.innerWidth
      return { text: one.textContent, capPx: capPx(one), width, height, isWithin }
    }),
  }
}
