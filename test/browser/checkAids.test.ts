import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { ticketText } from '../../main/trade/ticketCode.ts'
import { asJpeg, writeCard, writeFrames } from '../check/frameFiles.ts'
import { renderTake, turnAngles } from '../check/render.ts'
import { ticketPicture } from '../check/ticketPicture.ts'
import { aBookedStudio } from './aBookedStudio.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

describeBrowser('the helps before and beside a take', () => {
  let open: OpenBrowser
  let frames: string
  let shootId: number
  let turn: { readonly frames: number; readonly overlap: number }
  let studioKey: string
  beforeAll(async () => {
    const { folder } = await aBookedStudio()
    frames = join(folder, '..', 'frames')
    mkdirSync(join(frames, 'quick'), { recursive: true })
    mkdirSync(join(frames, 'card'))
    mkdirSync(join(frames, 'next'))
    const db = new Database(join(folder, 'studio.db'))
    shootId = Number(db.prepare("SELECT id FROM shoot WHERE name = 'boot'").pluck().get())
    studioKey = String(db.prepare('SELECT ticket_key FROM studio').pluck().get())
    db.prepare('UPDATE shoot_row SET frames_per_turn = 12, overlap_frames = 1').run()
    turn = { frames: 12, overlap: 1 }
    db.close()
    open = await openBrowser(folder)
  }, 60_000)
  afterAll(() => open?.close())

  it('sort a take over two cards by its ticket, join it and part it again, and name a folder that is not there', async () => {
    const pictures = renderTake({ anglesDeg: turnAngles({ framesPerTurn: turn.frames }) }).frames
    const ticket = await ticketPicture(ticketText({ studioKey, shootId, product: null }), 960, 720)
    const shots = await Promise.all(pictures.map((frame) => asJpeg(frame)))
    const at = new Date(Date.now() - 86_400_000).toISOString().slice(0, 19)
    const first = [ticket, ...shots.slice(0, 7)]
    await writeCard(join(frames, 'card'), first, { firstNumber: 9992, at })
    const later = new Date(Date.parse(`${at}Z`) + 6000 * first.length).toISOString().slice(0, 19)
    await writeCard(join(frames, 'next'), shots.slice(7), { firstNumber: 1, at: later })
    const { page } = open
    await page.goto(new URL('/bench/cards', open.host.address).href)
    await page.getByLabel('Folder of the card').fill('/no/such/card')
    await page.getByRole('button', { name: 'Read the cards' }).click()
    await page.getByText(/There is no folder \/no\/such\/card/).waitFor()
    await page.getByLabel('Folder of the card').fill(join(frames, 'card'))
    await page.getByRole('button', { name: 'Read the cards' }).click()
    await page.getByText(/1\s+take found: 1 short/).waitFor({ timeout: 30_000 })
    await page.getByRole('button', { name: 'Another card' }).click()
    await page.getByLabel('Card 2').fill(join(frames, 'next'))
    await page.getByRole('button', { name: 'Read the cards again' }).click()
    await page
      .getByText(/Its numbers go on where another folder ends after 7\s+frames/)
      .waitFor({ timeout: 30_000 })
    await page.getByRole('button', { name: 'Join them' }).click()
    await page.getByText(/1\s+take found: 1 whole/).waitFor()
    await page.getByText(/One take over 2\s+folders/).waitFor()
    await page.getByRole('button', { name: 'Take it apart' }).click()
    await page.getByText(/2\s+takes found/).waitFor()
    await page.getByRole('button', { name: /^Join it to the take before/ }).click()
    await page.getByText(/Whole, 12\s+frames\./).waitFor()
    await page.getByRole('button', { name: /Keep 1\s+take/ }).waitFor()
    expect(open.complaints).toEqual([])
  }, 60_000)

  it('tell which way to push a mug by four quick frames that arrive while the page is open', async () => {
    const { page } = open
    const quick = join(frames, 'quick')
    await page.goto(new URL(`/takes/of/${shootId}?aid=white`, open.host.address).href)
    await page.getByText(/No settings are written down yet/).waitFor()
    const db = new Database(join(open.host.studio, 'studio.db'))
    db.prepare(
      `INSERT INTO settings (aperture_held, created_at) VALUES ('held', '2026-01-01T00:00:00.000Z')`,
    ).run()
    db.close()
    await page.goto(new URL(`/takes/of/${shootId}?aid=centre`, open.host.address).href)
    const centre = page.getByLabel('Centre', { exact: true })
    await centre.selectOption('least sweep')
    const kept = new Database(join(open.host.studio, 'studio.db'), { readonly: true })
    await expect
      .poll(() => kept.prepare('SELECT centre_choice FROM shoot WHERE id = ?').pluck().get(shootId))
      .toBe('least sweep')
    kept.close()
    await page.reload()
    await expect.poll(() => centre.inputValue()).toBe('least sweep')
    await page.getByLabel('Folder the camera or tether writes to').fill(quick)
    await page.getByRole('button', { name: 'Look there' }).click()
    await page.getByRole('button', { name: /The next 7 frames/ }).waitFor()
    await centre.selectOption('body')
    const { frames: shots, truth } = renderTake({
      kind: 'mug',
      widthPx: 240,
      heightPx: 160,
      offsetMm: 5,
      offsetBearingDeg: 90,
      anglesDeg: [0, 90, 180, 270],
    })
    await page.getByLabel('The picture’s long side spans').fill(String(Math.round(truth.mmPerPx * 240)))
    await page.getByRole('button', { name: /The next 4 frames/ }).click()
    await page.getByText(/Turn to mark 1,/).waitFor()
    await writeFrames(quick, shots.slice(0, 2))
    await page.getByText(/2\s+frames of 4\. Turn to mark 7,/).waitFor()
    await writeFrames(quick, shots)
    // It stands to the left, at 90° from the camera: pushed to 270°, which comes to the pointer a quarter of a turn on.
    await page.getByText(/^Push it (?:4\.9|5|5\.1)\s+mm towards mark 4 /).waitFor({ timeout: 20_000 })
    await page.getByRole('link', { name: 'Before the take' }).click()
    await page.getByRole('button', { name: 'Start the take' }).waitFor()
    expect(open.complaints).toEqual([])
  }, 60_000)

  it('tell it from two readings typed by hand, and name the marks as typed where they cannot be right', async () => {
    const { page } = open
    await page.goto(new URL(`/takes/of/${shootId}?aid=centre`, open.host.address).href)
    await page.getByRole('button', { name: 'By two readings' }).click()
    const read = async (side: RegExp, mm: string, mark: string) => {
      const group = page.getByRole('group', { name: side })
      await group.getByLabel('On the rule').fill(mm)
      await group.getByLabel('At mark').fill(mark)
    }
    await read(/Farthest left/, '95', '4')
    await read(/Farthest right/, '105', '2')
    await page.getByText(/Marks 4 and 2 are not about half a turn apart/).waitFor()
    await read(/Farthest left/, '95', '8')
    // Half of 10 mm. At mark 2 it stands to the right; what lies to the left then comes to a pointer at the camera, past
    // behind and right, three quarters of a clockwise turn on: nine marks of twelve.
    await page.getByText(/^Push it 5\s+mm towards mark 11 /).waitFor()
    await page.getByText(/With mark 2 .*at the pointer that is to the left in the picture/).waitFor()
    expect(open.complaints).toEqual([])
  }, 60_000)
})
