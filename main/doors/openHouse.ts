import { createReadStream, existsSync } from 'node:fs'
import { Readable } from 'node:stream'
import { type Attachment, attachmentById, attachmentBySha256, attachmentPath } from '../../db/attachments.ts'
import type { Id } from '../../db/ids.ts'
import { openCalendar } from '../api/calendar.ts'
import { type OpenStudio, StudioHouse } from '../api/house.ts'
import { openStudio } from '../api/opening.ts'
import { appRouter } from '../api/router.ts'
import { Refusal } from '../trade/refusal.ts'
import { stopWatchingFolders, watchFolders } from '../work/folderWatches.ts'
import { followChecks, framePicture, stopChecks } from '../work/takeChecks.ts'
import { hearThreadFaults } from '../work/threadFaults.ts'
import type { Inside } from './browserDoor.ts'
import { bugLog } from './log.ts'
import type { Paper } from './paper.ts'

/** What the windows hear when there is more to see of a take's check. */
const checkChange = 'takeCheck.read'

/** One program run's house with everything a door needs of it. */
export interface OpenHouse {
  readonly inside: Inside
  /** Leaves the studio, if one is open, and closes its store. */
  close(): void
}

/**
 * Opens the house on a studio's folder. Where the folder holds no studio yet, the house stays empty and the
 * page asks for a new studio or the demo studio, which is made beside it.
 * Refuses what the store refuses: a folder open elsewhere, a newer studio, a file that is no studio.
 * @param studioFolder    the studio's folder
 * @param rendererFolder  the built page's folder
 */
export function openHouse(studioFolder: string, rendererFolder: string): OpenHouse {
  const house = new StudioHouse({
    studioFolder,
    demoFolder: `${studioFolder}-demo`,
    now: () => new Date(),
    // Loaded only where it is asked for: the demo speaks to the whole API.
    buildDemo: async (folder) => (await import('../demo/build.ts')).buildDemoStudio(folder, () => {}),
  })
  house.listen(() => {
    if (house.studio) watchFolders(house.studio, () => house.changed('frameFolders.counted'))
  })
  house.listen(({ path }) => {
    if (house.studio && path !== checkChange) followChecks(house.studio, () => house.changed(checkChange))
  })
  const log = bugLog(() => house.studio?.folder)
  const hearNoMore = hearThreadFaults((where, error) => log.bug(where, error))
  openStudio(house, studioFolder)
  const paper = async (find: (studio: OpenStudio) => Attachment | undefined) => {
    const { studio } = house
    const attachment = studio && find(studio)
    return attachment && keptPaper(studio.folder, attachment)
  }
  return {
    inside: {
      house,
      router: appRouter,
      rendererFolder,
      log,
      openPaper: (id) => paper(({ db }) => attachmentById(db, id)),
      openCalendar: (secret) => house.studio && openCalendar(house.studio, secret),
      openFrame: async (takeId, frame, size) => {
        const { studio } = house
        return studio && framePicture(studio.db, takeId as Id<'take'>, frame, size)
      },
      openFile: (sha256) => paper(({ db }) => attachmentBySha256(db, sha256)),
    },
    close() {
      hearNoMore()
      const studio = house.leave()
      if (!studio) return
      stopWatchingFolders(studio.db)
      stopChecks(studio.db)
      studio.close()
    },
  }
}

/** A kept file as a paper that streams from the studio's folder. Refuses where the file itself is gone. */
async function keptPaper(folder: string, { sha256, name, mediaType }: Attachment): Promise<Paper> {
  const file = attachmentPath(folder, sha256)
  if (!existsSync(file)) {
    throw new Refusal(
      'file-is-missing',
      `The file of ${name} is missing from the studio: ${file}. Put it back from a backup.`,
    )
  }
  return { name, mediaType, stream: Readable.toWeb(createReadStream(file)) as ReadableStream<Uint8Array> }
}
