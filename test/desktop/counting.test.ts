import fs from 'node:fs'
import path from 'node:path'
import { expect, it, vi } from 'vitest'
import { openStore } from '../../db/open.ts'
import type { Bridge } from '../../main/doors/bridge.ts'
import { aFrameFolder, aPhotograph } from '../takes/aFolder.ts'
import { atTheBench } from '../takes/aSpin.ts'
import { describeDesktop, openDesktop } from './kit.ts'

type PageWindow = Window & { turnsheet: Bridge }

describeDesktop('counting by files in the desktop program', () => {
  it('counts a photograph, keeps a small picture of it by sharp, and reads its Exif in a thread', {
    timeout: 60_000,
  }, async () => {
    const { studio, shootIds, stand } = await atTheBench()
    studio.house.leave()?.close()
    const folder = aFrameFolder()
    const desktop = await openDesktop(studio.folder)
    const call = async (name: string, input: unknown): Promise<unknown> => {
      const answer = await desktop.page.evaluate(
        ([url, body]) =>
          (window as unknown as PageWindow).turnsheet.call({
            url,
            method: 'POST',
            headers: { 'content-type': 'application/json' },
            body,
          }),
        [`/api/${name}`, JSON.stringify(input)] as const,
      )
      return JSON.parse(answer.body)
    }
    try {
      const started = await call('takes.start', { shootId: Number(shootIds[0]), ...stand, folder })
      expect(started).toMatchObject({ result: { data: { takeId: expect.any(Number) } } })
      fs.writeFileSync(path.join(folder, 'IMG_0001.JPG'), await aPhotograph({ at: '2026:03:02 08:30:00' }))
      const db = openStore(path.join(studio.folder, 'studio.db'), { readonly: true })
      const kept = () =>
        db
          .prepare(
            `SELECT f.file, a.name, a.media_type AS mediaType FROM take_frame f
             LEFT JOIN take_picture p ON p.take_id = f.take_id LEFT JOIN attachment a ON a.id = p.attachment_id`,
          )
          .all()
      await vi.waitFor(
        () =>
          expect(kept()).toEqual([{ file: 'IMG_0001.JPG', name: 'IMG_0001.JPG', mediaType: 'image/jpeg' }]),
        { timeout: 20_000, interval: 100 },
      )
      db.close()
      await call('frameFolders.read', { folder })
      await vi.waitFor(
        async () =>
          expect(await call('frameFolders.reading', undefined)).toMatchObject({
            result: { data: { state: 'done', found: [{ file: 'IMG_0001.JPG', clock: 'camera, local' }] } },
          }),
        { timeout: 20_000, interval: 200 },
      )
    } finally {
      await desktop.close()
    }
  })
})
