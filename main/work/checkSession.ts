import { type TakeToCheck, takeToCheck } from '../../db/checkedTakes.ts'
import type { Id } from '../../db/ids.ts'
import { setCheckTries } from '../../db/takeChecking.ts'
import { framesOfKeptCheck, keepCheck } from '../../db/takeChecks.ts'
import type { CheckStatus, PictureSize } from '../trade/check/checkStatus.ts'
import { hasFiles, type Turn, type TurnFrame, turnOfTake } from '../trade/check/turnFrames.ts'
import { CheckedFolders } from './checkedFolders.ts'
import { CheckedFrames } from './checkedFrames.ts'
import { type CheckHearer, type CheckRun, runCheck } from './checkRun.ts'
import type { MadeReport } from './checkWorker.ts'
import { keepStrip } from './contactStrip.ts'
import type { WatchedStudio } from './folderWatch.ts'
import { Renewal } from './renewal.ts'

/** How often the folders are looked at while something is awaited, in ms. */
const roundMs = 1000
/** A report is renewed no sooner than 0.3 s after the one before, and takes a fifth of the thread's time at most. */
const renewed = { restMs: 300, share: 4 }
/** While frames arrive the report is kept so often; what is lost with a killed program is read again. */
const keepMs = 5000

/** A frame's picture to look at, a JPEG. Its tag is the same while the picture is. */
export interface FramePicture {
  readonly jpeg: Uint8Array<ArrayBuffer>
  readonly tag: string
}

/**
 * The check of one take: gives its frames to the check's thread as they come, has the take's report renewed and keeps
 * it, and answers for the frames' pictures until it is stopped. Nothing in the person's folder is ever changed.
 */
export class CheckSession {
  readonly #folders: CheckedFolders
  readonly #studio: WatchedStudio
  readonly #takeId: Id<'take'>
  readonly #changed: () => void
  readonly #run: CheckRun
  readonly #frames: CheckedFrames
  readonly #renewal: Renewal
  #state: CheckStatus['state'] = 'reading'
  #sentence: string | null = null
  #known: TakeToCheck
  #turn: Turn = []
  #report: (MadeReport & { readonly turn: Turn }) | undefined
  #keptMs = Number.NEGATIVE_INFINITY
  #timer: NodeJS.Timeout | undefined
  #isMakingStrip = false
  /** When somebody last wanted something of it, on the clock that nobody sets. */
  #wantedMs = performance.now()

  /** @param changed  called when there is more to see of the check */
  constructor(
    studio: WatchedStudio,
    takeId: Id<'take'>,
    of: { readonly take: TakeToCheck; readonly folders: readonly string[] },
    changed: () => void,
  ) {
    this.#folders = new CheckedFolders(of.folders)
    this.#studio = studio
    this.#takeId = takeId
    this.#changed = changed
    this.#known = of.take
    const hearer: CheckHearer = {
      onFrame: ({ place, facts }) => {
        this.#frames.hear(place, facts)
        this.#renewal.due()
      },
      onGone: ({ folder, sentence }) => {
        this.#folders.wentAway(folder, sentence)
        this.#frames.forgetUnheard()
        this.#frames.want(this.#turn, this.#folders)
        this.#say('gone', this.#whyGone() ?? sentence)
      },
      onMore: () => this.#renewal.due(),
      onFailed: (sentence) => this.#end('failed', sentence),
    }
    this.#run = runCheck(hearer, { edgeBand: of.take.take.edgeBand })
    this.#frames = new CheckedFrames(this.#run.read)
    this.#renewal = new Renewal(() => this.#renew(), renewed)
    void this.#round()
  }

  /** Where the take's frames lie, in the order it went on in them. */
  get folders(): readonly string[] {
    return this.#folders.names
  }

  /**
   * True where it reads these folders first, in their order. A take that has gone on in one more since takes it along:
   * what was read stays read, also of a card that is out by now.
   */
  goesOnIn(folders: readonly string[]): boolean {
    return this.#folders.beginWith(folders) || (this.isLive && this.#folders.goOnIn(folders))
  }

  status(): CheckStatus {
    const framesRead = this.#frames.heardOf(this.#turn)
    return {
      state: this.#state,
      folders: this.folders,
      sentence: this.#sentence,
      framesRead,
      framesFound: this.#found,
      hasPictures: this.isLive && framesRead > 0,
    }
  }

  /** True while its thread runs. */
  get isLive(): boolean {
    return this.#state !== 'stopped' && this.#state !== 'failed'
  }

  /** True where its take has ended and all is read: it lives for its pictures alone. */
  get isIdle(): boolean {
    return this.#known.take.hasEnded && this.#isAllHeard
  }

  get wantedMs(): number {
    return this.#wantedMs
  }

  /**
   * The newest report as JSON, where it rests on all that is there or on more than the one that is kept of the same
   * folders: one of other folders is of pictures that nobody asks for any more.
   */
  report(): string | undefined {
    this.#wantedMs = performance.now()
    if (!this.#report) return undefined
    const isNewest =
      this.#isAllHeard ||
      this.#report.framesRead >= framesOfKeptCheck(this.#studio.db, this.#takeId, this.folders)
    return isNewest ? this.#report.json : undefined
  }

  /** The picture of a frame by its number in the take; undefined where it cannot be had. */
  async picture(number: number, size: PictureSize): Promise<FramePicture | undefined> {
    this.#wantedMs = performance.now()
    const frame = this.#turn.find((one) => one?.frame === number)
    const place = frame ? this.#frames.placeOf(frame) : undefined
    if (!frame || place === undefined) return undefined
    const jpeg = await (size === 'large' ? this.#run.large(place) : this.#run.viewing(place))
    const hash = this.#frames.factsOf(frame)?.contentHash ?? String(place)
    return jpeg ? { jpeg: new Uint8Array(jpeg), tag: `${hash.slice(0, 32)}-${size}` } : undefined
  }

  /** The take, or something else of the studio, has changed: frames were counted or made void, it has ended, was kept. */
  follow(): void {
    if (!this.isLive || !this.#studio.db.open) return
    const known = takeToCheck(this.#studio.db, this.#takeId)
    if (!known) return
    const before = this.#known.take
    const isAnother = JSON.stringify(known.take) !== JSON.stringify(before)
    this.#known = known
    if (JSON.stringify(known.take.edgeBand) !== JSON.stringify(before.edgeBand)) {
      this.#run.look(known.take.edgeBand)
    }
    if (hasFiles(known.frames)) this.#takeTurn()
    if (isAnother) this.#renewal.due()
    this.#settle()
  }

  /** A person has seen enough, or the studio is closed. What was found so far is kept. */
  stop(): void {
    if (this.isLive) this.#end('stopped', null)
  }

  /** One look at the folders, then the next: never two at once. */
  async #round(): Promise<void> {
    await this.#folders.read(this.#known, () => this.isLive)
    if (!this.isLive) return
    this.#takeTurn()
    const why = this.#whyGone()
    if (why !== undefined) this.#say('gone', why)
    else if (this.#state === 'gone') {
      this.#say('reading', null)
      this.#takeTurn()
    }
    await this.#frames.tryAgain(this.#turn)
    if (!this.isLive) return
    this.follow()
    if (!this.#studio.db.open) this.stop()
    if (!this.isLive || this.#state === 'done') return
    this.#timer = setTimeout(() => void this.#round(), roundMs)
    this.#timer.unref()
  }

  #whyGone(): string | undefined {
    const unheardIn = (folder: string) =>
      this.#turn.filter((frame) => frame?.folder === folder && !this.#frames.factsOf(frame)).length
    return this.#folders.whyGone(this.#known, unheardIn)
  }

  /** The turn by what was read last. Where a folder was never read, frames of another could be taken for its own. */
  #takeTurn(): void {
    if (!this.#folders.areRead && !hasFiles(this.#known.frames)) return
    const { turn, sentence } = turnOfTake(this.#known, this.#folders.asRead())
    const isAnother = JSON.stringify(turn) !== JSON.stringify(this.#turn)
    if (isAnother) this.#turn = turn
    if (this.#state !== 'gone') this.#sentence = sentence
    this.#frames.want(turn, this.#folders)
    if (isAnother) this.#renewal.due()
  }

  async #renew(): Promise<void> {
    const turn = this.#turn
    const made = await this.#run.report({ take: this.#known.take, turn, places: this.#frames.places(turn) })
    if (!made || !this.isLive || !this.#studio.db.open) return
    this.#report = { ...made, turn }
    if (this.#isAllHeard || performance.now() - this.#keptMs > keepMs) this.#keep()
    this.#settle()
    this.#changed()
  }

  /** Keeps the report, unless the one that is kept rests on frames that were not read again yet. */
  #keep(): void {
    const { db, now } = this.#studio
    if (!this.#report || !db.open) return
    if (!this.#isAllHeard && this.#report.framesRead < framesOfKeptCheck(db, this.#takeId)) return
    const { json: report, framesRead } = this.#report
    keepCheck({ db, now: now().toISOString() }, this.#takeId, { folders: this.folders, framesRead, report })
    this.#keptMs = performance.now()
  }

  /** Frames of the take whose file is known. */
  get #found(): number {
    return this.#turn.filter((frame) => frame !== null).length
  }

  get #isAllHeard(): boolean {
    return this.#found > 0 && this.#frames.heardOf(this.#turn) === this.#found
  }

  #settle(): void {
    if (!this.isLive || this.#state === 'gone') return
    const isRead =
      this.#isAllHeard && this.#report?.turn === this.#turn && this.#report.framesRead === this.#found
    if (!this.#isAllHeard) this.#say(this.#turn.length === 0 ? 'watching' : 'reading', this.#sentence)
    else if (isRead) {
      setCheckTries(this.#studio.db, this.#takeId, 0)
      // Where the folder holds another number of frames than the take, more may come.
      const isWhole = this.#known.take.hasEnded && this.#sentence === null
      this.#say(isWhole ? 'done' : 'watching', this.#sentence)
    }
    if (isRead && this.#known.isKept) void this.#keepStrip()
  }

  async #keepStrip(): Promise<void> {
    if (this.#isMakingStrip) return
    this.#isMakingStrip = true
    const of = {
      run: this.#run,
      turn: this.#turn,
      framesPerTurn: this.#known.take.framesPerTurn,
      placeOf: (frame: TurnFrame) => this.#frames.placeOf(frame) ?? null,
    }
    if (await keepStrip(this.#studio, this.#takeId, of)) this.#changed()
    this.#isMakingStrip = false
  }

  #say(state: CheckStatus['state'], sentence: string | null): void {
    const isSame = this.#state === state && this.#sentence === sentence
    this.#state = state
    this.#sentence = sentence
    if (!isSame) this.#changed()
  }

  #end(state: 'stopped' | 'failed', sentence: string | null): void {
    this.#keep()
    this.#run.stop()
    this.#renewal.stop()
    clearTimeout(this.#timer)
    this.#say(state, sentence)
  }
}
