import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { onTestFinished } from 'vitest'
import type { Writing } from '../db/events.ts'
import type { Db } from '../db/open.ts'
import type { NewStudio } from '../db/studio.ts'
import { caller } from '../main/api/caller.ts'
import { StudioHouse } from '../main/api/house.ts'
import { makeStudio } from '../main/api/opening.ts'

/** A studio on a real file, brought up by the real migrations, with a clock that the test moves. */
export interface TestStudio {
  readonly house: StudioHouse
  readonly api: ReturnType<typeof caller>
  readonly db: Db
  readonly folder: string
  /** Who and when for calls straight into db functions. */
  readonly writing: Writing
  setNow(instant: string): void
}

/** Invented figures; only what a test names matters to it. */
const plainStudio: NewStudio = {
  name: 'Lindenhof Spin Studio',
  personName: 'Mara Quist',
  country: 'DE',
  currency: 'EUR',
  timeZone: 'Europe/Berlin',
  locale: 'en-GB',
  taxName: 'VAT 20 %',
  taxRatePpm: 200_000,
  isDemo: false,
}

/** Makes a studio in a folder of its own; both are gone when the test has finished. */
export function aStudio(of: Partial<NewStudio> & { now?: string } = {}): TestStudio {
  const { now: startsAt = '2026-03-02T08:00:00.000Z', ...studio } = of
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-'))
  let now = new Date(startsAt)
  const house = new StudioHouse({ studioFolder: folder, demoFolder: `${folder}-demo`, now: () => now })
  makeStudio(house, folder, { ...plainStudio, ...studio })
  const open = house.studio
  if (!open) throw new Error('The test studio did not open.')
  // A studio in the European Union issues nothing without its own tax number.
  open.db.prepare('UPDATE studio SET tax_number = ?').run('DE000000000')
  onTestFinished(() => {
    house.leave()?.close()
    fs.rmSync(folder, { recursive: true, force: true })
  })
  return {
    house,
    api: caller(house),
    db: open.db,
    folder,
    get writing(): Writing {
      return { db: open.db, now: now.toISOString(), who: open.owner }
    },
    setNow(instant) {
      now = new Date(instant)
    },
  }
}
