// Room that files are read into, lent again once it was given back: some megabytes made anew for each frame of a take
// keep the collector busier than the check itself.

/** As many as are decoded at once, with a few for what a person asks for meanwhile. */
const mostKept = 6
/** Less than this is not worth keeping. */
const leastBytes = 1 << 20
/** Frames of a take differ in size: room for a somewhat larger one serves both. */
const spare = 1.25

const kept: ArrayBuffer[] = []

/** Room for so many bytes, with what was read there before still in it. */
export function lentBuffer(bytes: number): Buffer {
  const fitting = kept.findIndex((room) => room.byteLength >= bytes)
  const [room] = fitting < 0 ? [] : kept.splice(fitting, 1)
  if (room) return Buffer.from(room, 0, bytes)
  if (bytes < leastBytes) return Buffer.allocUnsafeSlow(bytes)
  // Those kept are too small: the smallest makes way.
  kept.shift()
  return Buffer.allocUnsafeSlow(Math.ceil(bytes * spare)).subarray(0, bytes)
}

/** Takes room back from whoever had it lent; nothing reads there any more. */
export function giveBack({ buffer }: Buffer): void {
  if (buffer.byteLength < leastBytes || !(buffer instanceof ArrayBuffer) || kept.includes(buffer)) return
  kept.push(buffer)
  kept.sort((a, b) => a.byteLength - b.byteLength)
  if (kept.length > mostKept) kept.shift()
}
