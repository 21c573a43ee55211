import { longestStepMs } from '../../pause.ts'
import { median } from '../../quantile.ts'
import { type MatchPicture, pictureDistance } from '../turn/matching.ts'

/** So many of the frames before are looked back at. */
const window = 12
/** With fewer to compare with, every frame is worth reading. */
const fewest = 3
/** A ticket in place of the product differs from its neighbour by more than so many steps of the turn. */
const unlikeSteps = 2.5

/** Why a frame may show a ticket. */
export type TicketHint = 'first' | 'after a gap' | 'unlike'

/**
 * Tells which frames of a folder are worth the time of looking for a ticket, one after the other as they come: the
 * first ones, those after a gap in time, and those unlike the frame before by more than the turn explains.
 */
export class TicketFrames {
  #last: { readonly picture: MatchPicture | null; readonly atMs: number | null } | undefined
  readonly #distances: number[] = []
  readonly #steps: number[] = []

  /**
   * @param picture  null where the frame cannot be decoded
   * @param atMs     when it was shot; null where nothing tells
   */
  hintOf(picture: MatchPicture | null, atMs: number | null): TicketHint | null {
    const before = this.#last
    this.#last = { picture: picture ?? before?.picture ?? null, atMs }
    if (!before) return 'first'
    const isAfterGap = this.#isAfterGap(before.atMs, atMs)
    const isUnlike = this.#isUnlike(before.picture, picture)
    if (isAfterGap) return 'after a gap'
    if (isUnlike === null) return 'first'
    return isUnlike ? 'unlike' : null
  }

  #isAfterGap(beforeMs: number | null, atMs: number | null): boolean {
    if (beforeMs === null || atMs === null) return false
    const step = atMs - beforeMs
    const usual = this.#steps.length < fewest ? 0 : median(this.#steps)
    remember(this.#steps, step)
    return step > longestStepMs(usual)
  }

  /** Null where there is too little to compare with. */
  #isUnlike(before: MatchPicture | null, picture: MatchPicture | null): boolean | null {
    if (!picture) return false
    if (!before) return null
    // Of another size is of another camera, or turned on its side.
    if (!isSameSize(before, picture)) return true
    const { wholeDistance: distance } = pictureDistance(before, picture)
    const usual = this.#distances.length < fewest ? null : median(this.#distances)
    remember(this.#distances, distance)
    return usual === null ? null : distance > unlikeSteps * usual
  }
}

function isSameSize(a: MatchPicture, b: MatchPicture): boolean {
  return a.widthPx === b.widthPx && a.heightPx === b.heightPx
}

function remember(values: number[], value: number): void {
  values.push(value)
  if (values.length > window) values.shift()
}
