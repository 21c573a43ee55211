import bwip, { type RenderOptions } from 'bwip-js/node'
import sharp from 'sharp'

/** A camera's picture of a ticket held before the set: its square code a fifth of the picture's width, a little turned. */
export async function ticketPicture(text: string, widthPx: number, heightPx: number): Promise<Buffer> {
  const options: RenderOptions & { readonly eclevel: string } = {
    bcid: 'qrcode',
    text,
    eclevel: 'M',
    scale: 8,
    padding: 32,
    backgroundcolor: 'eeeeee',
  }
  const code = await bwip.toBuffer(options)
  const side = Math.round(widthPx / 5)
  const ticket = await sharp(code).resize(side, side).rotate(9, { background: '#8a8a86' }).png().toBuffer()
  return sharp({ create: { width: widthPx, height: heightPx, channels: 3, background: '#8a8a86' } })
    .composite([{ input: ticket, left: Math.round(widthPx * 0.3), top: Math.round(heightPx * 0.3) }])
    .blur(0.8)
    .jpeg({ quality: 90 })
    .toBuffer()
}
