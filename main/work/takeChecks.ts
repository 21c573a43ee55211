import { takeToCheck } from '../../db/checkedTakes.ts'
import { pickedWithoutStrip } from '../../db/contactStrips.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { countCheckTry, setCheckTries, takesToFollow } from '../../db/takeChecking.ts'
import { checkFolders } from '../../db/takeChecks.ts'
import type { CheckStatus, PictureSize } from '../trade/check/checkStatus.ts'
import { foldersToRead } from '../trade/check/turnFrames.ts'
import { Refusal } from '../trade/refusal.ts'
import { CheckSession, type FramePicture } from './checkSession.ts'
import { keepStripOfTake } from './contactStrip.ts'
import type { WatchedStudio } from './folderWatch.ts'
import { readNamedFolder, refuseFolders } from './frameFolder.ts'

interface Checks {
  readonly sessions: Map<Id<'take'>, CheckSession>
  /** What was asked and waits for the studio's next change. */
  readonly asked: Map<Id<'take'>, readonly string[]>
  readonly strips: Set<Id<'take'>>
}

const checks = new Map<Db, Checks>()

/** Takes whose pictures are held ready at once, beside those that are being read. */
const mostIdle = 3
/** A check that nobody wanted anything of for so long is let go, in ms. */
const idleMs = 10 * 60_000

/** A check that was begun so often and never read all that lay there waits for a person: some frame may end the program. */
const mostTries = 3

/**
 * Follows the studio: call it when it is opened and after every change. Begins the checks that were asked for, and
 * those of running takes that are counted by their files; of all running takes also where the program was begun anew.
 * One that a person has stopped, or that the program did not survive a few times, waits to be asked for.
 * @param changed  called when there is more to see of a check
 */
export function followChecks(studio: WatchedStudio, changed: () => void): void {
  for (const db of checks.keys()) if (!db.open) stopChecks(db)
  const ofStore = checksOf(studio.db)
  const { sessions, asked, strips } = ofStore
  for (const { takeId, isWatched, folders: begunIn, tries } of takesToFollow(studio.db)) {
    // What a person has just asked for goes before what is known.
    if (asked.has(takeId)) continue
    // The thread is ready before the first frame comes.
    const isWanted = tries !== null && tries < mostTries
    const folders = !isWanted ? [] : isWatched ? (takeToCheck(studio.db, takeId)?.folders ?? []) : begunIn
    if (folders.length > 0 && !sessions.get(takeId)?.goesOnIn(folders)) asked.set(takeId, folders)
  }
  for (const [takeId, folders] of asked) {
    const running = sessions.get(takeId)
    // Asked for by two windows at once.
    if (running?.isLive && reads(running, folders)) continue
    running?.stop()
    const take = takeToCheck(studio.db, takeId)
    if (take) countCheckTry(studio.db, takeId, folders)
    if (take) sessions.set(takeId, new CheckSession(studio, takeId, { take, folders }, changed))
  }
  asked.clear()
  for (const session of sessions.values()) session.follow()
  letIdleGo(sessions)
  for (const takeId of strips) {
    // A check of the take keeps its strip itself.
    if (!sessions.get(takeId)?.isLive)
      void keepStripOfTake(studio, takeId).then((isKept) => isKept && changed())
  }
  strips.clear()
}

/**
 * Asks for the check of a take; it begins with the studio's next change. One that runs on the same folders goes on.
 * @param named  where its frames lie, in the order the take went on; null where the take itself knows, or was checked
 *   before. Of a take that knows several folders, those that are not named are looked for where it knows them.
 * Refuses a take of which nobody knows the folder, a folder named now that is not there or cannot be read, and one
 * named twice. Of folders known before one may be away: the others are read, and it is waited for.
 */
export async function askForCheck(
  db: Db,
  takeId: Id<'take'>,
  named: readonly string[] | null,
): Promise<void> {
  const take = takeToCheck(db, takeId)
  if (!take) throw new Refusal('no-take', 'This take is not in the studio.')
  const folders = named ? foldersToRead(named, take.folders) : checkFolders(db, takeId, take.folders)
  if (folders.length === 0) {
    throw new Refusal(
      'no-folder-known',
      'Nobody has said yet where the frames of this take lie. Choose their folder.',
      {
        field: 'folder',
      },
    )
  }
  // Both cards may have been copied into one folder: that stands for each of them.
  const own = take.folders.length
  refuseFolders([...new Set(folders.slice(0, own)), ...folders.slice(own)])
  const { sessions, asked } = checksOf(db)
  const session = sessions.get(takeId)
  if (session?.isLive && reads(session, folders)) return
  await refuseUnreadable(named ?? folders, named !== null)
  setCheckTries(db, takeId, 0)
  asked.set(takeId, folders)
}

async function refuseUnreadable(folders: readonly string[], isEach: boolean): Promise<void> {
  const tried = await Promise.allSettled(folders.map((folder) => readNamedFolder(folder)))
  const failed = tried.filter((one) => one.status === 'rejected')
  if (failed.length > 0 && (isEach || failed.length === folders.length)) throw failed[0]?.reason
}

function reads(session: CheckSession | undefined, folders: readonly string[]): boolean {
  return JSON.stringify(session?.folders) === JSON.stringify(folders)
}

/** A person stops the check of a take; what it found so far is kept. */
export function stopCheck(db: Db, takeId: Id<'take'>): void {
  setCheckTries(db, takeId, null)
  checks.get(db)?.sessions.get(takeId)?.stop()
}

/** Asks for the contact strip of a take that has just been kept. */
export function askForStrip(db: Db, takeId: Id<'take'>): void {
  checksOf(db).strips.add(takeId)
}

/** Asks for the contact strips of the takes picked for these spins, where they have none: a pick or the client's yes rests on them. */
export function askForStripsOfPicked(db: Db, shootIds: readonly Id<'shoot'>[]): void {
  for (const takeId of pickedWithoutStrip(db, shootIds)) askForStrip(db, takeId)
}

/** Stops all checks of a studio; call it before its store is closed. */
export function stopChecks(db: Db): void {
  for (const session of checks.get(db)?.sessions.values() ?? []) session.stop()
  checks.delete(db)
}

/** How the check of a take stands. */
export function checkStatus(db: Db, takeId: Id<'take'>): CheckStatus {
  return checks.get(db)?.sessions.get(takeId)?.status() ?? nothingYet
}

/** The report that a check has made since the one that is kept, as JSON. */
export function newestReport(db: Db, takeId: Id<'take'>): string | undefined {
  return checks.get(db)?.sessions.get(takeId)?.report()
}

/** A frame's picture to look at; undefined where its take is not being checked, or it cannot be had. */
export async function framePicture(
  db: Db,
  takeId: Id<'take'>,
  frame: number,
  size: PictureSize,
): Promise<FramePicture | undefined> {
  const session = checks.get(db)?.sessions.get(takeId)
  return session?.isLive ? await session.picture(frame, size) : undefined
}

const nothingYet: CheckStatus = {
  state: 'none',
  folders: [],
  sentence: null,
  framesRead: 0,
  framesFound: 0,
  hasPictures: false,
}

function checksOf(db: Db): Checks {
  const known = checks.get(db)
  if (known) return known
  const none: Checks = { sessions: new Map(), asked: new Map(), strips: new Set() }
  checks.set(db, none)
  return none
}

function letIdleGo(sessions: Checks['sessions']): void {
  const idle = [...sessions]
    .filter(([, session]) => session.isLive && session.isIdle)
    .sort(([, a], [, b]) => b.wantedMs - a.wantedMs)
  for (const [at, [takeId, session]] of idle.entries()) {
    if (at < mostIdle && performance.now() - session.wantedMs < idleMs) continue
    session.stop()
    sessions.delete(takeId)
  }
}
