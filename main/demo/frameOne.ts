import sharp from 'sharp'
import type { SmallFrame } from '../trade/check/smallFrame.ts'
import type { Finish } from '../trade/product.ts'

/** What of a product its drawn frame shows. */
export interface Drawn {
  readonly widthMm: number | null
  readonly heightMm: number | null
  readonly finish: Finish
}

/** Grey of the body at its light side and its dark side, by finish. */
const shades: Readonly<Record<Finish, readonly [light: number, dark: number]>> = {
  matt: [176, 120],
  satin: [196, 104],
  gloss: [224, 70],
  mirror: [244, 46],
  clear: [240, 206],
  textile: [150, 112],
}

const canvas = { width: 480, height: 360 }

/**
 * A first frame as the demo's camera might have taken it: the product's front as a plain shaded body on white, true
 * to its proportions. Drawn, because the demo's products are invented and no photograph shows them.
 */
export async function frameOne(product: Drawn): Promise<Buffer> {
  return sharp(Buffer.from(drawing(product, '', 1)))
    .jpeg({ quality: 85 })
    .toBuffer()
}

/**
 * A frame of the demo's takes, small: the same body with a knob, a label and a seam, which go round as the platter turns.
 * @param offsetPx  how far the body's middle stands off the axis, in pixels of the drawing, at 90°
 * @param part      of the drawing's sides
 */
export async function turnedFrame(
  product: Drawn,
  turnDeg: number,
  offsetPx: number,
  part: number,
): Promise<SmallFrame> {
  const { w, h, y } = bodyOf(product)
  const middle = canvas.width / 2
  const [sin, cos] = [Math.sin((turnDeg * Math.PI) / 180), Math.cos((turnDeg * Math.PI) / 180)]
  const off = offsetPx * sin
  const knob = `<circle cx="${middle + sin * w * 0.55}" cy="${y + h * 0.35}" r="${Math.max(8, w * 0.09)}" fill="#6b6b6b"/>`
  const label = `<rect x="${middle + sin * w * 0.36 - cos * w * 0.08}" y="${y + h * 0.5}" width="${Math.max(0.1, cos * w * 0.16)}" height="${h * 0.22}" fill="#8f8f8f"/>`
  const ground = `<ellipse cx="${middle}" cy="${canvas.height * 0.88}" rx="${canvas.width * 0.4}" ry="${canvas.height * 0.08}" fill="#b4b4b4"/>`
  const seam = `<rect x="${middle - sin * w * 0.42}" y="${y + h * 0.08}" width="${Math.max(0.1, -cos * w * 0.1)}" height="${h * 0.84}" fill="#4f4f4f"/>`
  const turned = cos > 0 ? `${label}${knob}` : seam
  const behind = cos > 0 ? '' : knob
  const { data, info } = await sharp(Buffer.from(drawing(product, turned, part, { behind, off, ground })))
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true })
  return { widthPx: info.width, heightPx: info.height, rgb: new Uint8Array(data) }
}

/** A small frame as a JPEG. */
export async function jpegOf({ rgb, widthPx, heightPx }: SmallFrame): Promise<Uint8Array> {
  return sharp(rgb, { raw: { width: widthPx, height: heightPx, channels: 3 } })
    .jpeg({ quality: 85 })
    .toBuffer()
}

function bodyOf({ widthMm, heightMm }: Drawn) {
  const [wide, high] = [widthMm ?? 100, heightMm ?? 100]
  const scale = Math.min((canvas.width * 0.6) / wide, (canvas.height * 0.7) / high)
  const [w, h] = [Math.round(wide * scale), Math.round(high * scale)]
  return { w, h, x: (canvas.width - w) / 2, y: canvas.height * 0.88 - h }
}

function shadowOf(product: Drawn): string {
  const { w } = bodyOf(product)
  return `<ellipse cx="${canvas.width / 2}" cy="${canvas.height * 0.88}" rx="${w * 0.56}" ry="10" fill="#c4c4c4"/>`
}

function drawing(
  product: Drawn,
  inFront: string,
  part: number,
  { behind = '', off = 0, ground = shadowOf(product) } = {},
): string {
  const { w, h, x, y } = bodyOf(product)
  const [light, dark] = shades[product.finish]
  const grey = (value: number) => `rgb(${value},${value},${value})`
  const corner = Math.round(Math.min(w, h) * 0.12)
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${canvas.width * part}" height="${canvas.height * part}" viewBox="0 0 ${canvas.width} ${canvas.height}">
    <defs>
      <linearGradient id="ground" x1="0" x2="0" y1="0" y2="1">
        <stop offset="0" stop-color="#fff"/><stop offset="1" stop-color="#e6e6e6"/>
      </linearGradient>
      <linearGradient id="body" x1="0" x2="1" y1="0" y2="0">
        <stop offset="0" stop-color="${grey(dark)}"/><stop offset="0.3" stop-color="${grey(light)}"/>
        <stop offset="0.6" stop-color="${grey(Math.round((light + dark) / 2))}"/><stop offset="1" stop-color="${grey(dark)}"/>
      </linearGradient>
    </defs>
    <rect width="100%" height="100%" fill="url(#ground)"/>
    ${ground}
    <g transform="translate(${off} 0)">${behind}
    <rect x="${x}" y="${y}" width="${w}" height="${h}" rx="${corner}" fill="url(#body)"/>${inFront}</g>
  </svg>`
}
