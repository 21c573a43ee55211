import sharp from 'sharp'
import type { Finish } from '../trade/product.ts'

/** What of a product its drawn frame shows. */
interface Drawn {
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
export async function frameOne({ widthMm, heightMm, finish }: Drawn): Promise<Buffer> {
  const [wide, high] = [widthMm ?? 100, heightMm ?? 100]
  const scale = Math.min((canvas.width * 0.6) / wide, (canvas.height * 0.7) / high)
  const [w, h] = [Math.round(wide * scale), Math.round(high * scale)]
  const [x, y] = [(canvas.width - w) / 2, canvas.height * 0.88 - h]
  const [light, dark] = shades[finish]
  const grey = (value: number) => `rgb(${value},${value},${value})`
  const corner = Math.round(Math.min(w, h) * 0.12)
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${canvas.width}" height="${canvas.height}">
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
    <ellipse cx="${canvas.width / 2}" cy="${canvas.height * 0.88}" rx="${w * 0.56}" ry="10" fill="#c4c4c4"/>
    <rect x="${x}" y="${y}" width="${w}" height="${h}" rx="${corner}" fill="url(#body)"/>
  </svg>`
  return sharp(Buffer.from(svg)).jpeg({ quality: 85 }).toBuffer()
}
