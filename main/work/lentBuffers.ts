// Room that files are read into, lent again once it was given back: some megabytes made anew for each frame of a take
// keep the collector busier than the check itself.

/** So much is kept to be lent again: room for the few frames that are decoded at once. */
const mostKept = 128 * 2 ** 20
/** Less than this is not worth keeping. */
const leastBytes = 2 ** 20
/** Frames of a take differ in size: room for a somewhat larger one serves both. */
const spare = 1.25

/** The smallest first. */
const kept: ArrayBuffer[] = []

/** Room for so many bytes, with what was read there before still in it. */
export function lentBuffer(bytes: number): Buffer {
  const fitting = kept.findIndex((room) => room.byteLength >= bytes)
  const [room] = fitting < 0 ? [] : kept.splice(fitting, 1)
  if (room) return Buffer.from(room, 0, bytes)
  // What is kept is too small for these files: the smallest makes way.
  kept.shift()
  const isKeptLater = bytes >= leastBytes && bytes * spare <= mostKept
  return Buffer.allocUnsafeSlow(isKeptLater ? Math.ceil(bytes * spare) : bytes).subarray(0, bytes)
}

/** Takes room back from whoever had it lent; nothing reads there any more. */
export function giveBack({ buffer }: Buffer): void {
  if (!(buffer instanceof ArrayBuffer) || kept.includes(buffer)) return
  const all = kept.reduce((sum, room) => sum + room.byteLength, buffer.byteLength)
  if (buffer.byteLength < leastBytes || all > mostKept) return
  kept.push(buffer)
  kept.sort((a, b) => a.byteLength - b.byteLength)
}
