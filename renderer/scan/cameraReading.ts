import jsQR from 'jsqr'

/** How wide a frame is looked at: a ticket at arm's length is large in it, and the page stays quick. */
const widestPixels = 800
/** Between two looks; a look takes some ten milliseconds. */
export const lookEveryMs = 120

/** Why there is no camera, in a sentence; undefined where the page may ask for one. */
export function whyNoCamera(): string | undefined {
  if (navigator.mediaDevices) return undefined
  return window.isSecureContext
    ? 'This browser gives pages no camera. Use a hand scanner, or type the code that stands on the ticket.'
    : 'This page came over plain HTTP from another machine, and browsers give such pages no camera. Use a hand scanner, type the code that stands on the ticket, or scan at the studio’s own computer.'
}

/** What a refused camera means, in a sentence. */
export function cameraSentence(error: unknown): string {
  switch (error instanceof DOMException ? error.name : '') {
    case 'NotAllowedError':
      return 'The camera is not allowed to this page. Allow it where the browser or the computer asks, then open this again; or type the code.'
    case 'NotFoundError':
    case 'OverconstrainedError':
      return 'There is no camera at this machine. Plug one in and open this again, use a hand scanner, or type the code.'
    case 'NotReadableError':
      return 'Another program holds the camera. Close it there and open this again, or type the code.'
    default:
      return 'The camera does not start. Use a hand scanner, or type the code.'
  }
}

/** Opens the camera that looks away from the person, where there are two. */
export function openCamera(): Promise<MediaStream> {
  return navigator.mediaDevices.getUserMedia({
    audio: false,
    video: { facingMode: 'environment', width: { ideal: 1280 }, height: { ideal: 720 } },
  })
}

/** Reads a square code in what a video shows now; undefined where there is none. */
export function readFrame(video: HTMLVideoElement, canvas: HTMLCanvasElement): string | undefined {
  if (video.videoWidth === 0) return undefined
  const scale = Math.min(1, widestPixels / video.videoWidth)
  canvas.width = Math.round(video.videoWidth * scale)
  canvas.height = Math.round(video.videoHeight * scale)
  const context = canvas.getContext('2d', { willReadFrequently: true })
  if (!context) return undefined
  context.drawImage(video, 0, 0, canvas.width, canvas.height)
  const { data, width, height } = context.getImageData(0, 0, canvas.width, canvas.height)
  // Paper is dark on light; the other way round would cost as long again.
  return jsQR(data, width, height, { inversionAttempts: 'dontInvert' })?.data || undefined
}
