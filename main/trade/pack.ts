/** One frame of a take. Its number is its place in the take, from 1, and never changes. */
export interface TakeFrame {
  /** Milliseconds from the start of the take. */
  readonly offsetMs: number
  /** A void frame's file stays on the card; it shifts nobody's number. */
  readonly isVoid: boolean
  /** The mark it was shot at, from 0; marks past the full turn are the overlap. */
  readonly mark: number
  readonly file: string | null
  /** Which of the take's folders the file lies in, from 0; left out where it is the first. */
  readonly folder?: number
}

/** An ended take's frames as they are kept: small, because a studio holds millions of frames. */
export interface PackedFrames {
  readonly offsetsMs: readonly number[]
  /** Pairs of frame and mark, only where a frame does not stand one mark after the frame before it. */
  readonly marks: readonly (readonly [frame: number, mark: number])[]
  readonly voids: readonly number[]
  /** With the place of its folder among the take's, from 0, only where it is not the first. */
  readonly files: readonly (readonly [frame: number, file: string, folder?: number])[]
}

/** Packs a take's frames, in their order; `unpackFrames` gives the same frames back. */
export function packFrames(frames: readonly TakeFrame[]): PackedFrames {
  const numbered = frames.map((frame, index) => ({ ...frame, number: index + 1 }))
  return {
    offsetsMs: frames.map(({ offsetMs }) => offsetMs),
    marks: numbered
      .filter(({ mark }, index) => mark !== (frames[index - 1]?.mark ?? -1) + 1)
      .map(({ number, mark }) => [number, mark] as const),
    voids: numbered.filter(({ isVoid }) => isVoid).map(({ number }) => number),
    files: numbered.flatMap(({ number, file, folder }) => {
      if (file === null) return []
      const packed: PackedFrames['files'][number] = folder ? [number, file, folder] : [number, file]
      return [packed]
    }),
  }
}

/** The frames that were packed. */
export function unpackFrames(packed: PackedFrames): TakeFrame[] {
  const marks = new Map(packed.marks)
  const voids = new Set(packed.voids)
  const files = new Map(
    packed.files.map(([number, file, folder]) => [number, { file, ...(folder ? { folder } : {}) }]),
  )
  let mark = -1
  return packed.offsetsMs.map((offsetMs, index) => {
    const number = index + 1
    mark = marks.get(number) ?? mark + 1
    return { offsetMs, isVoid: voids.has(number), mark, ...(files.get(number) ?? { file: null }) }
  })
}
