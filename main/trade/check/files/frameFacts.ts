import type { ExifTime } from '../../captureTime.ts'
import type { ExifSettings } from './exifSettings.ts'

/** Why a frame's picture cannot be had. */
export interface FrameTrouble {
  readonly kind:
    | 'gone'
    | 'not allowed'
    | 'not readable now'
    | 'empty'
    | 'cut short'
    | 'damaged'
    | 'format'
    | 'too large'
    | 'no preview'
  /** What is wrong with which file, and what to do. */
  readonly sentence: string
}

/** What is known of a frame's file beside its picture. */
export interface FrameFacts {
  /** The file that was read, within the folder: of a raw file and its picture, the first that could be. */
  readonly file: string
  readonly bytes: number
  /** Two files of the same content have the same; null where the picture cannot be had. */
  readonly contentHash: string | null
  readonly from: 'picture' | 'raw preview' | null
  /** Of the picture as it stands upright; null where it cannot be had. */
  readonly widthPx: number | null
  readonly heightPx: number | null
  /** Orientation, Exif tag 0x0112: 1 as it lies, 3 upside down, 6 and 8 on its sides; 1 where none is written. */
  readonly orientation: number
  readonly time: ExifTime | null
  readonly settings: ExifSettings
  /** The text of a square code that was read in it; null where there is none, or nobody looked. */
  readonly ticket: string | null
  readonly trouble: FrameTrouble | null
}
