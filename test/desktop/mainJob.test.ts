import { basename, join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { runMainJob } from '../path/mainJob.ts'
import { type Desktop, describeDesktop, openDesktop } from './kit.ts'

describeDesktop('the main job in the desktop window', () => {
  let desktop: Desktop
  beforeAll(async () => {
    desktop = await openDesktop()
    // The computer's own program for PDFs is no part of this: it is told which paper it would have shown.
    await desktop.app.evaluate(({ shell }) => {
      const opened: string[] = []
      shell.openPath = async (path) => {
        opened.push(path)
        return ''
      }
      Object.assign(globalThis, { opened })
    })
  })
  afterAll(() => desktop?.close())

  it('goes from the first start to the paid invoice, and the page complains of nothing', async () => {
    await runMainJob(desktop.page, desktop.studio, join(desktop.studio, '..', 'exports'))
    expect(desktop.complaints).toEqual([])
    const opened = await desktop.app.evaluate(() => (globalThis as unknown as { opened: string[] }).opened)
    expect(opened.map((path) => basename(path))).toEqual([expect.stringMatching(/^I-\d{4}-0001\.pdf$/)])
  })
})
