import type { Page } from 'playwright-core'
import { dialog, follow, goToStation, press, see } from './person.ts'

/** The turn of the client's brief. */
const framesPerTurn = 24
const overlapFrames = 2

/** One take of each spin, turned by keys: the first with a void frame and a fault, both kept. */
export async function turnTakes(page: Page): Promise<void> {
  await goToStation(page, 'Takes')
  await startTake(page, 'Jug, tall')
  await shoot(page, 9)
  await page.keyboard.press('Backspace')
  await see(page, 'frame 9 kept, 1 void')
  await shoot(page, 12, 8)
  await page.keyboard.press('f')
  const fault = await dialog(page, /^A fault at frame/)
  await press(fault, 'flicker')
  const next = await dialog(page, /^Flicker at frame/)
  await press(next, 'Go on as it is')
  await next.waitFor({ state: 'detached' })
  await shoot(page, framesPerTurn + overlapFrames, 12)
  await keep(page, '27 frames shot, 1 void')
  await startTake(page, 'Jug, low')
  await shoot(page, framesPerTurn + overlapFrames)
  await keep(page, '26 frames shot')
}

/** Starts a take of a spin from the takes of its job. */
export async function startTake(page: Page, spin: string): Promise<void> {
  const spins = page.getByRole('table', { name: 'Spins of the job and their takes' })
  await spins.getByRole('link', { name: spin }).click()
  await page.getByRole('region', { name: spin }).waitFor()
  await follow(page, 'Start a take')
  await press(page, 'Start the take')
  await see(page, 'turn to')
}

/** Presses the space bar with every frame until so many of the turn and its overlap are there. */
export async function shoot(page: Page, upTo: number, from = 0): Promise<void> {
  for (let frame = from + 1; frame <= upTo; frame += 1) await page.keyboard.press('Space')
  await see(
    page,
    upTo > framesPerTurn
      ? `overlap ${upTo - framesPerTurn} of ${overlapFrames}`
      : `${upTo} of ${framesPerTurn}`,
  )
}

/** Ends the take by its key and keeps it. */
async function keep(page: Page, told: string): Promise<void> {
  await see(page, 'The turn is closed')
  await page.keyboard.press('e')
  await see(page, told)
  await press(page, 'Keep the take')
  await see(page, 'Kept.')
  await page
    .getByRole('link', { name: /^Takes of J-/ })
    .last()
    .click()
}
