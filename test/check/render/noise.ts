/** Random numbers from 0 to under 1 by a seed (mulberry32, public domain). */
export function randomOf(seed: number): () => number {
  let state = seed | 0
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296
  }
}

const tableSize = 1 << 16
const random = randomOf(20_011)
// Standard normal numbers (Box and Muller).
const table = Float32Array.from(
  { length: tableSize },
  () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random()),
)

/** Standard normal numbers by a seed and a place: the same two give the same number. */
export function gaussians(seed: number): { at(place: number): number } {
  const start = Math.imul(seed, 48_271)
  // A frame is longer than the table: by the second stride it does not repeat within one.
  return {
    at: (place) => table[(start + place + Math.imul(place >>> 13, 40_503)) & (tableSize - 1)] as number,
  }
}

const levels = 4096
// IEC 61966-2-1, the way back: linear light to codes.
const codes = Float32Array.from({ length: levels + 1 }, (_, i) => {
  const y = i / levels
  return 255 * (y <= 0.0031308 ? 12.92 * y : 1.055 * y ** (1 / 2.4) - 0.055)
})

/** The sRGB code of a linear luminance, not rounded, 0 to 255. */
export function encode(y: number): number {
  if (y >= 1) return 255
  if (y <= 0) return 0
  const place = y * levels
  const low = Math.floor(place)
  const from = codes[low] as number
  return from + ((codes[low + 1] as number) - from) * (place - low)
}
