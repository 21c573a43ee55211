import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { runMainJob } from '../path/mainJob.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

describeBrowser('the main job in a browser', () => {
  let open: OpenBrowser
  beforeAll(async () => {
    open = await openBrowser()
    await open.page.setViewportSize({ width: 1280, height: 800 })
  })
  afterAll(() => open?.close())

  it('goes from the first start to the paid invoice, and the page complains of nothing', async () => {
    await runMainJob(open.page, open.host.studio, join(open.host.studio, '..', 'exports'))
    expect(open.complaints).toEqual([])
  })
})
