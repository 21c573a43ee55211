import { pictureType } from '../trade/picture.ts'
import { Refusal } from '../trade/refusal.ts'

/** The longest side of a small picture: sharp enough at twice the size it is drawn at. */
const smallSidePx = 640
/** A camera of today writes up to some 200 million pixels; more is a stitched picture, or a trap. */
const mostPixels = 268_402_689

/**
 * A small JPEG of a picture, upright as its EXIF says and without its metadata, to know a take by. libvips
 * decodes on threads of its own, and one picture at a time is enough: no worker is needed.
 * Refuses, in words that name the file, what is no JPEG, PNG or WebP, what is damaged or cut short, and a
 * picture of more than 268 million pixels.
 */
export async function smallPicture(
  bytes: Uint8Array,
  name: string,
  longestSidePx = smallSidePx,
): Promise<{
  readonly bytes: Uint8Array
  readonly mediaType: 'image/jpeg'
  readonly widthPx: number
  readonly heightPx: number
}> {
  if (pictureType(bytes) === undefined) {
    throw new Refusal(
      'no-picture',
      `${name} is no JPEG, PNG or WebP picture. Export it from the raw file as a JPEG and pick that.`,
      { field: 'picture' },
    )
  }
  // Loaded on the first picture: a program whose binding is missing still opens the studio.
  const { default: sharp } = await import('sharp')
  sharp.concurrency(1)
  try {
    const { data, info } = await sharp(bytes, { failOn: 'truncated', limitInputPixels: mostPixels })
      .rotate()
      .resize({ width: longestSidePx, height: longestSidePx, fit: 'inside', withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .jpeg({ quality: 82 })
      .toBuffer({ resolveWithObject: true })
    return { bytes: data, mediaType: 'image/jpeg', widthPx: info.width, heightPx: info.height }
  } catch (error) {
    throw unreadable(name, error instanceof Error ? error.message : '')
  }
}

function unreadable(name: string, said: string): Refusal {
  if (said.includes('pixel limit')) {
    return new Refusal(
      'picture-too-large',
      `${name} has more than 268 million pixels. Save it smaller, as a JPEG.`,
      { field: 'picture' },
    )
  }
  return new Refusal(
    'picture-damaged',
    `${name} is damaged or was cut short. Copy it from the card again, or pick another frame.`,
    { field: 'picture' },
  )
}
