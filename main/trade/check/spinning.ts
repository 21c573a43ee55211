import { Refusal } from '../refusal.ts'

/** The stretch of a take that is played: its first and last frame, counted from 1, both in it. */
export interface PlayedLoop {
  readonly inFrame: number
  readonly outFrame: number
  /** Numbers between them that are not played: void frames, whose marks were shot again. */
  readonly leftOut?: readonly number[]
}

/** How a loop is played: the delivered frames a second as an exact fraction, and which way round. */
export interface Playing {
  readonly loop: PlayedLoop
  readonly rate: { readonly numerator: number; readonly denominator: number }
  /** True plays from the last frame to the first. */
  readonly isReversed: boolean
}

/** The frames of one round of the loop, one at least. */
export function framesOfLoop({ inFrame, outFrame, leftOut = [] }: PlayedLoop): readonly number[] {
  const all = Array.from({ length: Math.max(1, outFrame - inFrame + 1) }, (_, at) => inFrame + at)
  const played = leftOut.length === 0 ? all : all.filter((frame) => !leftOut.includes(frame))
  return played.length === 0 ? [inFrame] : played
}

/** How many frames one round of the loop has. */
export function loopLength(loop: PlayedLoop): number {
  return framesOfLoop(loop).length
}

/** A loop that lies in a take of so many frames, at least one frame long; what lies outside is moved in. */
export function loopWithin({ inFrame, outFrame, ...loop }: PlayedLoop, frames: number): PlayedLoop {
  const first = Math.min(Math.max(1, inFrame), Math.max(1, frames))
  return { ...loop, inFrame: first, outFrame: Math.min(Math.max(first, outFrame), Math.max(1, frames)) }
}

/** The frame so many steps further round the loop; one outside it comes in at the nearest end, one left out at the next. */
export function frameOnLoop(loop: PlayedLoop, from: number, steps: number): number {
  const frames = framesOfLoop(loop)
  const next = frames.findIndex((frame) => frame >= from)
  const at = next < 0 ? frames.length - 1 : next
  return frames[(((at + steps) % frames.length) + frames.length) % frames.length] ?? loop.inFrame
}

/**
 * The frame that stands after playing for `elapsedMs` from `from`: each stands for exactly 1000 × denominator ÷
 * numerator milliseconds, so that nothing adds up however late the screen asks.
 */
export function framePlayed({ loop, rate, isReversed }: Playing, from: number, elapsedMs: number): number {
  const steps = Math.floor((Math.max(0, elapsedMs) * rate.numerator) / (1000 * rate.denominator) + 1e-9)
  return frameOnLoop(loop, from, isReversed ? -steps : steps)
}

/**
 * The frame under a hand that drags the product by its near face: across the whole picture is half a turn, as the
 * near face goes from one side of the product to the other in half a turn. Turned clockwise, seen from above, the near
 * face goes to the left, so pulling it to the right goes back through the frames; anticlockwise it goes on.
 * @param draggedPx  from where the hand took hold, to the right
 * @param widthPx    of the picture
 */
export function frameDragged(
  { loop, direction }: { readonly loop: PlayedLoop; readonly direction: 'clockwise' | 'anticlockwise' },
  from: number,
  draggedPx: number,
  widthPx: number,
): number {
  const turns = draggedPx / (2 * Math.max(1, widthPx))
  const way = direction === 'clockwise' ? -1 : 1
  return frameOnLoop(loop, from, way * Math.round(turns * loopLength(loop)))
}

/**
 * The order in which the pictures of a take are fetched: every sixteenth, then those between, so that the take can be
 * turned at once and becomes smoother. Each frame comes once.
 */
export function fetchOrder(frames: number): number[] {
  const order: number[] = []
  for (const every of [16, 8, 4, 2, 1]) {
    for (let index = 0; index < frames; index += every) {
      if (every === 16 || index % (every * 2) !== 0) order.push(index + 1)
    }
  }
  return order
}

/**
 * The frames whose pictures are kept unpacked, the next ones first: the loop's from `at` on in the way it is played,
 * with a few behind it for a hand that turns back.
 * @param most  pictures that fit into memory, 2 or more
 */
export function unpackedFrames(loop: PlayedLoop, at: number, isReversed: boolean, most: number): number[] {
  const length = Math.min(loopLength(loop), most)
  const behind = length < loopLength(loop) ? Math.floor(length / 4) : 0
  const way = isReversed ? -1 : 1
  const ahead = Array.from({ length: length - behind }, (_, k) => frameOnLoop(loop, at, way * k))
  const back = Array.from({ length: behind }, (_, k) => frameOnLoop(loop, at, -way * (k + 1)))
  return [...ahead, ...back]
}

/** The frame among those fetched that lies nearest round the loop to the one wanted; undefined where there is none. */
export function nearestFrame(loop: PlayedLoop, wanted: number, isThere: (frame: number) => boolean) {
  const reach = Math.ceil(loopLength(loop) / 2)
  for (let away = 0; away <= reach; away += 1) {
    for (const frame of [frameOnLoop(loop, wanted, -away), frameOnLoop(loop, wanted, away)]) {
      if (isThere(frame)) return frame
    }
  }
  return undefined
}

/** How many changes a second the seam may be blinked at: two changes are a flash, and three flashes a second are the most. */
export const blinkRates = [1, 2, 4] as const

/** Most flashes a second: WCAG 2.2, 2.3.1. */
export const mostFlashes = 3

/**
 * Which of the two frames at the seam stands after so long: the loop's last, then its first, in turn.
 * @param changes  a second; refused above six, which is three flashes
 */
export function seamShown(elapsedMs: number, changes: number): 'last' | 'first' {
  if (!(changes > 0) || changes > 2 * mostFlashes) {
    throw new Refusal(
      'blinks-too-fast',
      `${changes} changes a second flash more than ${mostFlashes} times a second, which can make people ill. Choose ${2 * mostFlashes} or fewer.`,
    )
  }
  return Math.floor((Math.max(0, elapsedMs) * changes) / 1000 + 1e-9) % 2 === 0 ? 'last' : 'first'
}

/**
 * The most flashes in any one second of playing, by the frames' mean luminance (0 to 1, linear): a flash is a rise and a
 * fall, or a fall and a rise, of a tenth or more where the darker is under 0.8 (WCAG 2.2, general flash). Judged
 * on whole frames, as a lamp that comes and goes makes them.
 * @param luminance  of the loop's frames in the order they play, null where it is not known
 * @param perSecond  frames a second
 */
export function flashesPerSecond(luminance: readonly (number | null)[], perSecond: number): number {
  const known = luminance.filter((y) => y !== null)
  if (known.length < 2 || perSecond <= 0) return 0
  // Rounds follow each other, so that the seam is among what is counted, for two seconds' worth or two rounds.
  const played = Math.max(2 * known.length, Math.ceil(2 * perSecond))
  const changes: { readonly at: number; readonly isRise: boolean }[] = []
  let extreme = known[0] ?? 0
  for (let at = 1; at < played; at += 1) {
    const y = known[at % known.length] ?? 0
    const last = changes.at(-1)
    const isFar = Math.abs(y - extreme) >= 0.1 && Math.min(y, extreme) < 0.8
    if (isFar && (last === undefined || last.isRise !== y > extreme)) {
      changes.push({ at, isRise: y > extreme })
      extreme = y
    } else if (last === undefined ? false : last.isRise === y > extreme) extreme = y
  }
  const within = (first: { readonly at: number }) =>
    changes.filter(({ at }) => at >= first.at && at - first.at < perSecond).length
  return Math.max(0, ...changes.map((first) => Math.floor(within(first) / 2)))
}

/**
 * Frames a second at which a loop may be played without more than three flashes in any second: its own rate, or where
 * its light comes and goes too fast for that, the highest whole number under it that stays within.
 */
export function calmRate(
  luminance: readonly (number | null)[],
  rate: Playing['rate'],
): { readonly rate: Playing['rate']; readonly isSlower: boolean } {
  const isCalm = (perSecond: number) => flashesPerSecond(luminance, perSecond) <= mostFlashes
  const own = rate.numerator / rate.denominator
  if (isCalm(own)) return { rate, isSlower: false }
  let perSecond = Math.ceil(own) - 1
  while (perSecond > 1 && !isCalm(perSecond)) perSecond -= 1
  return { rate: { numerator: perSecond, denominator: 1 }, isSlower: true }
}
