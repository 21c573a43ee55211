import { type Db, holdsStudio, openStudioFolder } from '../../db/open.ts'
import type { NewStudio } from '../../db/studio.ts'
import { findStudio, insertStudio, ownerOf } from '../../db/studio.ts'
import { Refusal } from '../trade/refusal.ts'
import type { OpenStudio, StudioHouse } from './house.ts'
import type { Who } from './kit.ts'

/**
 * Opens the studio a folder holds and enters it; leaves the house empty where the folder holds none.
 * Refuses what `openStudioFolder` refuses.
 * @returns true when a studio is open afterwards
 */
export function openStudio(house: StudioHouse, folder: string): boolean {
  if (!holdsStudio(folder)) return false
  const { db, close } = openStudioFolder(folder, house.options.now())
  const owner = ownerOf(db)
  if (!findStudio(db) || !owner) {
    close()
    return false
  }
  house.leave()?.close()
  house.enter(openAs(db, folder, owner, house.options.now, close))
  return true
}

/** Makes a new studio in a folder and enters it. Refuses a folder that holds one already. */
export function makeStudio(house: StudioHouse, folder: string, studio: NewStudio): void {
  const { db, close } = openStudioFolder(folder, house.options.now())
  try {
    if (findStudio(db)) {
      throw new Refusal(
        'studio-exists',
        `The folder ${folder} already holds a studio. Open it, or choose another folder.`,
      )
    }
    const owner = insertStudio(db, studio, house.options.now().toISOString())
    house.leave()?.close()
    house.enter(openAs(db, folder, owner, house.options.now, close))
  } catch (error) {
    close()
    throw error
  }
}

/** Who works at the first device is read anew for every call, since the person may say that somebody else does. */
function openAs(db: Db, folder: string, first: Who, now: () => Date, close: () => void): OpenStudio {
  return {
    db,
    folder,
    get owner() {
      return ownerOf(db) ?? first
    },
    now,
    close,
  }
}
