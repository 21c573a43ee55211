import type { FrameTrace } from '../frameTrace.ts'

/** Whether all thumbs have one size, so that a pixel of one is the same place in all. */
export function thumbsAgree(traces: readonly FrameTrace[]): boolean {
  const first = traces[0]?.thumb
  return traces.every(({ thumb }) => thumb.widthPx === first?.widthPx && thumb.heightPx === first.heightPx)
}

/** The traces without those whose thumb has another size than most: a stray frame is held against none of the take. */
export function ofCommonestSize(traces: readonly (FrameTrace | null)[]): readonly (FrameTrace | null)[] {
  const sizeOf = ({ thumb }: FrameTrace) => `${thumb.widthPx} ${thumb.heightPx}`
  const times = new Map<string, number>()
  for (const trace of traces) if (trace) times.set(sizeOf(trace), (times.get(sizeOf(trace)) ?? 0) + 1)
  const most = Math.max(0, ...times.values())
  const commonest = [...times].find(([, count]) => count === most)?.[0]
  return traces.map((trace) => (trace && sizeOf(trace) === commonest ? trace : null))
}

/** In how many frames each pixel of the thumb shows some of the product, or lies right beside it. */
export function timesCovered(traces: readonly FrameTrace[]): Uint16Array {
  const times = new Uint16Array(traces[0]?.thumb.y.length ?? 0)
  for (const trace of traces) {
    const { widthPx, heightPx } = trace.thumb
    for (let row = 0; row < heightPx; row++) {
      const [left, right] = rowOf(trace, row, 'widest')
      if (left >= right) continue
      const to = Math.min(widthPx, Math.ceil(right) + 1)
      for (let column = Math.max(0, Math.floor(left) - 1); column < to; column++) {
        const at = row * widthPx + column
        times[at] = (times[at] ?? 0) + 1
      }
    }
  }
  return times
}

/** The pixels of the thumb that lie wholly on the product in both frames. */
export function productPixels(a: FrameTrace, b: FrameTrace): readonly number[] {
  const { widthPx, heightPx } = a.thumb
  const pixels: number[] = []
  for (let row = 0; row < heightPx; row++) {
    const [leftA, rightA] = rowOf(a, row, 'narrowest')
    const [leftB, rightB] = rowOf(b, row, 'narrowest')
    const to = Math.min(rightA, rightB, widthPx)
    for (let column = Math.ceil(Math.max(leftA, leftB, 0)); column + 1 <= to; column++) {
      pixels.push(row * widthPx + column)
    }
  }
  return pixels
}

/** Where the product begins and ends in a row of the thumb, by all rows of the frame that it holds, in pixels of the thumb. */
function rowOf(
  { silhouette, thumb, widthPx, heightPx }: FrameTrace,
  row: number,
  reach: 'widest' | 'narrowest',
): readonly [left: number, right: number] {
  if (!silhouette) return [0, 0]
  const from = Math.floor((row * heightPx) / thumb.heightPx) - silhouette.topPx
  const to = Math.ceil(((row + 1) * heightPx) / thumb.heightPx) - silhouette.topPx
  const scale = thumb.widthPx / widthPx
  let [left, right, rows] = [Number.NaN, Number.NaN, 0]
  for (let at = Math.max(0, from); at < to; at++) {
    const l = silhouette.leftPx[at]
    const r = silhouette.rightPx[at]
    if (l === undefined || r === undefined || Number.isNaN(l + r)) continue
    const isFirst = rows++ === 0
    const isWider = reach === 'widest'
    if (isFirst || l < left === isWider) left = l
    if (isFirst || r > right === isWider) right = r
  }
  if (rows === 0 || (reach === 'narrowest' && rows < to - from)) return [0, 0]
  return [left * scale, right * scale]
}
