import jsQR from 'jsqr'
import sharp from 'sharp'
import { expect, it } from 'vitest'
import { printTickets } from '../../main/papers/ticket.ts'
import { drawnSheets } from './drawnCodes.ts'

const scanText = 'TURNSHEET.1A2F.12345'

/** A camera's picture of the ticket as its PDF draws it: on a bench, turned, out of focus, small in the frame. */
async function frameOf(o: { degrees: number; pixelsPerMm: number; blur: number; surround: string }) {
  const [sheet] = drawnSheets(
    printTickets(
      [
        {
          scanText,
          codes: ['KN-01'],
          name: 'Kettle',
          startPose: null,
          direction: 'clockwise',
          size: null,
          frames: ['240 frames'],
          jobNumber: 'J-1',
          clientName: 'Halvorsen Lamps',
        },
      ],
      '2026-03-02T00:00:00.000Z',
    ),
  )
  const rects = (sheet?.rects ?? [])
    .map(({ x, y, width, height }) => `<rect x="${x}" y="${y}" width="${width}" height="${height}"/>`)
    .join('')
  const fieldMm = 300
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${fieldMm * o.pixelsPerMm}" height="${fieldMm * o.pixelsPerMm}" viewBox="0 0 ${fieldMm} ${fieldMm}">
    <rect width="${fieldMm}" height="${fieldMm}" fill="${o.surround}"/>
    <g transform="translate(150 150) rotate(${o.degrees}) translate(-52.5 -74)"><rect width="105" height="148" fill="#eee"/>
    <g fill="#222">${rects}</g></g></svg>`
  const { data, info } = await sharp(Buffer.from(svg))
    .blur(o.blur)
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true })
  return jsQR(new Uint8ClampedArray(data), info.width, info.height)?.data
}

it.each(
  ['#0a0a0a', '#7a7a78', '#ffffff'].flatMap((surround) =>
    [0, 7, 90, 184, 315].map((degrees) => ({ surround, degrees })),
  ),
)('a ticket turned by $degrees° before $surround is read from a blurred frame, near and far', async (of) => {
  // At 0.85 pixels a mm a camera of 640 pixels sees 75 cm of the bench.
  expect(await frameOf({ ...of, pixelsPerMm: 0.85, blur: 0.6 })).toBe(scanText)
  expect(await frameOf({ ...of, pixelsPerMm: 2.5, blur: 2 })).toBe(scanText)
})
