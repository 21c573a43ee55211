import {
  type CardSpace,
  cardClasses,
  cardSpace,
  copyMs,
  frameBytes,
  writingBytesPerSecond,
} from '../../main/trade/cards.ts'
import { type Outcome, workedOut } from './reading.ts'
import type { Typed } from './typed.ts'

export interface CardsView {
  readonly frames: number
  readonly frameBytes: number
  readonly space: CardSpace
  readonly copyMs: number
  /** Whether the card or the reader holds the copy up. */
  readonly slower: 'card' | 'reader'
  /** What the camera must write, in bytes a second, to keep up with the hands. */
  readonly writingBytesPerSecond: number
  /** Marks on cards that promise to keep up; none where no mark promises so much. */
  readonly marks: readonly string[]
}

/** Room on cards and time to copy what a plan shoots. */
export function cardsView(
  typed: Typed,
  shot: {
    readonly frames: number
    readonly widthPx: number
    readonly heightPx: number
    readonly stepMs: number
  },
): Outcome<CardsView> {
  return workedOut(
    typed,
    {
      bitsPerPixel: 'bits',
      compression: 'compression',
      cardBytes: 'cardGb',
      cardBytesPerSecond: 'cardSpeed',
      readerBytesPerSecond: 'readerSpeed',
      widthPx: 'sensorPxW',
      heightPx: 'sensorPxH',
    },
    (reader) => ({
      bitsPerPixel: reader.whole('bits', 'The bit depth', { least: 1, most: 128, unit: 'bits' }),
      compression:
        reader.number('compression', 'The compression', 2, { least: 1, most: 100, unit: '%' }) / 100,
      cardBytes: Math.round(reader.number('cardGb', 'The card', 3, { unit: 'GB' }) * 1e9),
      cardSpeed: reader.number('cardSpeed', 'The card’s speed', 3, { unit: 'MB/s' }) * 1e6,
      readerSpeed: reader.number('readerSpeed', 'The reader’s speed', 3, { unit: 'MB/s' }) * 1e6,
    }),
    ({ bitsPerPixel, compression, cardBytes, cardSpeed, readerSpeed }) => {
      const bytes = frameBytes({ widthPx: shot.widthPx, heightPx: shot.heightPx, bitsPerPixel, compression })
      const space = cardSpace(shot.frames, bytes, cardBytes)
      const writing = writingBytesPerSecond(bytes, shot.stepMs)
      return {
        frames: shot.frames,
        frameBytes: bytes,
        space,
        copyMs: copyMs(space.totalBytes, {
          cardBytesPerSecond: cardSpeed,
          readerBytesPerSecond: readerSpeed,
        }),
        slower: cardSpeed <= readerSpeed ? 'card' : 'reader',
        writingBytesPerSecond: writing,
        marks: Object.entries(cardClasses).flatMap(([mark, promised]) => (promised >= writing ? [mark] : [])),
      }
    },
  )
}
