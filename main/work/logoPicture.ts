import { pictureType } from '../trade/picture.ts'
import { Refusal } from '../trade/refusal.ts'

/** What a logo is printed at, 60 × 20 mm, at some 380 dots per inch. */
const boxPx = { width: 900, height: 300 }
/** Smaller would be seen as steps on paper. */
const leastPx = 60
const mostPixels = 50_000_000
const field = { field: 'logo' }

/**
 * A logo made ready for papers: a PNG of at most 900 × 300 px on white, without transparency, metadata and colour
 * profile, which a PDF takes as it is. Refuses, in words that name the file, what is no PNG, JPEG or WebP (an SVG too: it
 * may load other files and fonts), what moves, is damaged, smaller than 60 px or over 50 million pixels.
 */
export async function logoPicture(bytes: Uint8Array, name: string): Promise<Uint8Array> {
  if (pictureType(bytes) === undefined) {
    throw new Refusal(
      'logo-type',
      `${name} is no PNG, JPEG or WebP picture. Export the logo as a PNG, at least 900 pixels wide.`,
      field,
    )
  }
  const { default: sharp } = await import('sharp')
  sharp.concurrency(1)
  try {
    const picture = sharp(bytes, { failOn: 'warning', limitInputPixels: mostPixels })
    const { pages = 1, width = 0, height = 0 } = await picture.metadata()
    if (pages > 1 || isMovingPng(bytes)) throw moving(name)
    if (Math.max(width, height) < leastPx) throw tooSmall(name, width, height)
    const png = await picture
      .rotate()
      .flatten({ background: '#ffffff' })
      .resize({ ...boxPx, fit: 'inside', withoutEnlargement: true })
      .toColourspace('srgb')
      .removeAlpha()
      .png({ palette: false, compressionLevel: 9 })
      .toBuffer()
    return png
  } catch (error) {
    throw error instanceof Refusal ? error : unreadable(name, error instanceof Error ? error.message : '')
  }
}

/** An animated PNG says so in a chunk before its picture (PNG, third edition, acTL). */
function isMovingPng(bytes: Uint8Array): boolean {
  const text = Buffer.from(bytes.subarray(0, 4096)).toString('latin1')
  const at = text.indexOf('acTL')
  const picture = text.indexOf('IDAT')
  return text.startsWith('\x89PNG') && at > 0 && (picture < 0 || at < picture)
}

function moving(name: string): Refusal {
  return new Refusal('logo-moves', `${name} moves, and paper does not. Pick a still picture.`, field)
}

function tooSmall(name: string, width: number, height: number): Refusal {
  return new Refusal(
    'logo-small',
    `${name} is ${width} × ${height} pixels, too few to print. Pick one at least ${leastPx} pixels wide, better 900.`,
    field,
  )
}

function unreadable(name: string, said: string): Refusal {
  return said.includes('pixel limit')
    ? new Refusal('logo-large', `${name} has more than 50 million pixels. Save it smaller, as a PNG.`, field)
    : new Refusal(
        'logo-damaged',
        `${name} is damaged or was cut short. Save it again and pick it then.`,
        field,
      )
}
