/** How the check of a take stands. */
export interface CheckStatus {
  /**
   * none: never begun since the program started. reading: frames are read now. watching: all that is there is read,
   * more is awaited. done: every frame of an ended take is read. stopped: by a person. gone: the folder cannot be read
   * now; it is tried again until it is back. failed: the reading broke off; begin again.
   */
  readonly state: 'none' | 'reading' | 'watching' | 'done' | 'stopped' | 'gone' | 'failed'
  /** Where its frames are read, in the order the take went on; none where it was never begun. */
  readonly folders: readonly string[]
  /** Why it is gone or failed, or that the folder holds another number of frames than the take. */
  readonly sentence: string | null
  readonly framesRead: number
  /** Frames of the take whose file is known. */
  readonly framesFound: number
  /** True while pictures of the frames can be had at `/frames/<takeId>/<frame>`. */
  readonly hasPictures: boolean
}

/** Small: its longest side 512 pixels, at hand while the take is turned. Large: 1280 pixels, for a frame that is stopped at. */
export type PictureSize = 'small' | 'large'

/** A frame's picture as a page asks for it. Both doors serve it. */
export function framePicturePath(takeId: number, frame: number, size: PictureSize = 'small'): string {
  return `/frames/${takeId}/${frame}${size === 'large' ? '/large' : ''}`
}
