import { cardSpace } from './cards.ts'
import { type Caution, loadCautions, rigCautions } from './caution.ts'

/** One line of the list before a take; `figures` are worked out for the take at hand. */
export interface SafetyItem {
  readonly about: Caution['about'] | 'centring' | 'card'
  readonly sentence: string
  readonly pointer: string
}

export interface TakeAhead {
  /** Frames of the rows that are still to be turned, overlap included. */
  readonly frames: number
  readonly bytesPerFrame: number
}

/** The size of card the room is counted in, as one is mostly sold. */
const cardBytes = 64_000_000_000

/**
 * What is looked at before the first frame: the product's place, what can fall, burn or be stumbled over, and
 * whether battery and card last for the frames to come. It reminds; makers and local rules decide.
 */
export function safetyList({ frames, bytesPerFrame }: TakeAhead): readonly SafetyItem[] {
  return [
    {
      about: 'centring',
      sentence:
        'Centre the product: turn the platter once by hand and watch its edge against something that stands still.',
      pointer: 'The start mark stands under the pointer, and the start pose faces the camera.',
    },
    ...loadCautions,
    ...rigCautions,
    {
      about: 'batteries',
      sentence: `The batteries of camera, remote and lamps last for ${frames} frames.`,
      pointer: 'Charge them as their makers say, and leave none charging unwatched.',
    },
    {
      about: 'card',
      sentence: `The card has room for ${frames} frames: ${roomText(frames, bytesPerFrame)}.`,
      pointer: 'Reckoned uncompressed; measure a frame of your own where it is tight.',
    },
  ]
}

/** `13.7 GB, 1 card of 64 GB`; sizes by thousands, as cards are sold. */
function roomText(frames: number, bytesPerFrame: number): string {
  if (frames === 0) return 'none is to come'
  const { totalBytes, cards } = cardSpace(frames, bytesPerFrame, cardBytes)
  const gb = totalBytes / 1e9
  return `${gb < 10 ? gb.toFixed(1) : Math.ceil(gb)}\u00a0GB, ${cards}\u00a0${cards === 1 ? 'card' : 'cards'} of ${cardBytes / 1e9}\u00a0GB`
}
