import type { PictureSize } from '../../main/trade/check/checkStatus.ts'
import { fetchOrder } from '../../main/trade/check/spinning.ts'

/** Where the picture of a frame is had. */
export type AddressOf = (frame: number, size?: PictureSize) => string

/** Pictures that are kept unpacked: at 512 px on the longest side some 70 MB. The others stay as they came. */
export const mostUnpacked = 96

/** Pictures fetched at a time: a browser has six lines to one host, and calls must not wait. */
const fetchesAtOnce = 3

/** The pictures of a take's frames: fetched all, unpacked those that are about to be seen. */
export interface FramePictures {
  /** The picture of a frame, where it is unpacked: the large one where that has come. */
  readonly at: (frame: number) => ImageBitmap | undefined
  readonly isFetched: (frame: number) => boolean
  readonly fetched: () => number
  /** Frames whose pictures can be had by now; more come while a take is shot. */
  readonly follow: (frames: readonly number[]) => void
  /** Unpacks these, the first soonest, and lets all others go. */
  readonly want: (frames: readonly number[]) => void
  /** Fetches these large, for they stand still, and shows them so once all have come; large ones of others are let go. */
  readonly enlarge: (frames: readonly number[]) => void
  readonly close: () => void
}

/**
 * @param onChange  a picture has come or is unpacked
 */
export function framePictures(addressOf: AddressOf, onChange: () => void): FramePictures {
  const packed = new Map<number, Blob>()
  const unpacked = new Map<number, ImageBitmap>()
  const large = new Map<number, ImageBitmap>()
  const inWork = new Set<number>()
  const asked = new Set<number>()
  const closing = new AbortController()
  let toFetch: number[] = []
  let wanted: readonly number[] = []
  let enlarged: readonly number[] = []
  let fetching = 0

  const unpack = async (frame: number, blob: Blob) => {
    inWork.add(frame)
    try {
      const picture = await createImageBitmap(blob)
      // It may have taken so long that nobody wants it any more.
      if (closing.signal.aborted || !wanted.includes(frame)) picture.close()
      else {
        unpacked.set(frame, picture)
        onChange()
      }
    } catch {
      // A picture that cannot be drawn is one that is not there: its frame says why in the figures.
      packed.delete(frame)
    } finally {
      inWork.delete(frame)
    }
  }
  const unpackWanted = () => {
    for (const frame of wanted) {
      const blob = packed.get(frame)
      if (blob && !unpacked.has(frame) && !inWork.has(frame)) void unpack(frame, blob)
    }
  }
  const fetchOne = async (frame: number) => {
    fetching += 1
    try {
      const answer = await fetch(addressOf(frame), { signal: closing.signal })
      if (answer.ok) packed.set(frame, await answer.blob())
      // Asked for again when the studio next says that it is there.
      else asked.delete(frame)
    } catch {
      asked.delete(frame)
    }
    fetching -= 1
    if (closing.signal.aborted) return
    unpackWanted()
    onChange()
    fetchMore()
  }
  const fetchMore = () => {
    while (fetching < fetchesAtOnce) {
      // What one looks at comes before what one may look at.
      const next = wanted.slice(0, 3).find((frame) => toFetch.includes(frame)) ?? toFetch[0]
      if (next === undefined) return
      toFetch = toFetch.filter((frame) => frame !== next)
      void fetchOne(next)
    }
  }
  const letLargeGo = () => {
    for (const picture of large.values()) picture.close()
    large.clear()
  }
  const fetchLarge = async (frame: number) => {
    const answer = await fetch(addressOf(frame, 'large'), { signal: closing.signal })
    if (!answer.ok) throw new Error(`The large picture of frame ${frame} cannot be had.`)
    return [frame, await createImageBitmap(await answer.blob())] as const
  }
  const enlarge = async (frames: readonly number[]) => {
    const came = await Promise.allSettled(frames.map(fetchLarge))
    const pictures = came.flatMap((one) => (one.status === 'fulfilled' ? [one.value] : []))
    // Two that take turns change together: a sharp one after a soft one would look like a change of the product.
    if (closing.signal.aborted || frames !== enlarged || pictures.length < frames.length) {
      for (const [, picture] of pictures) picture.close()
      return
    }
    for (const [frame, picture] of pictures) large.set(frame, picture)
    onChange()
  }
  return {
    at: (frame) => large.get(frame) ?? unpacked.get(frame),
    isFetched: (frame) => packed.has(frame),
    fetched: () => packed.size,
    follow(frames) {
      const fresh = new Set(frames.filter((frame) => !asked.has(frame)))
      if (fresh.size === 0) return
      for (const frame of fresh) asked.add(frame)
      const order = fetchOrder(Math.max(...fresh)).filter((frame) => fresh.has(frame))
      toFetch = [...toFetch, ...order]
      fetchMore()
    },
    want(frames) {
      wanted = frames
      const keep = new Set(frames)
      for (const [frame, picture] of unpacked) {
        if (keep.has(frame)) continue
        picture.close()
        unpacked.delete(frame)
      }
      unpackWanted()
    },
    enlarge(frames) {
      enlarged = frames
      letLargeGo()
      void enlarge(frames)
    },
    close() {
      closing.abort()
      letLargeGo()
      for (const picture of unpacked.values()) picture.close()
      unpacked.clear()
      packed.clear()
    },
  }
}
