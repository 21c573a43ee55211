/** What a camera wrote of how a frame was exposed; null where it wrote nothing. */
export interface ExifSettings {
  /** ExposureTime, tag 0x829A. */
  readonly shutterSeconds: number | null
  /** FNumber, tag 0x829D. */
  readonly fNumber: number | null
  /** PhotographicSensitivity, tag 0x8827. */
  readonly iso: number | null
  /** WhiteBalance, tag 0xA403: whether the camera chose it for each frame. */
  readonly whiteBalance: 'auto' | 'manual' | null
  /** LightSource, tag 0x9208: the camera's own number of the light it was set to. */
  readonly lightSource: number | null
  /** FocalLength, tag 0x920A. */
  readonly focalLengthMm: number | null
}

export const noSettings: ExifSettings = {
  shutterSeconds: null,
  fNumber: null,
  iso: null,
  whiteBalance: null,
  lightSource: null,
  focalLengthMm: null,
}
