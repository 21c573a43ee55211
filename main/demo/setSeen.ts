import sharp from 'sharp'
import type { CastRevision } from './cast/rigs.ts'

const [widthPx, heightPx] = [1500, 1000]

/**
 * A set as it would be seen from behind the camera, drawn in greys in place of a photograph, by its own figures: the
 * platter with its product, and the lights on their stands. Nothing of it was ever photographed.
 */
export function setSeen(revision: CastRevision, rimMm: number): Promise<Buffer> {
  const eye = { y: revision.cameraDistanceMm * 1.5, z: Math.max(revision.cameraHeightMm, 400) * 1.6 }
  const focal = widthPx * 0.9
  const looksAt = (eye.z - (revision.productHeightMm ?? 100) / 2) / eye.y
  /** Perspective from the eye towards the axis, in px. */
  const at = (x: number, y: number, z: number) => {
    const deep = Math.max(eye.y - y, 50)
    return {
      x: widthPx / 2 + (x / deep) * focal,
      y: heightPx * 0.55 + ((eye.z - z) / deep - looksAt) * focal,
      per: focal / deep,
    }
  }
  const [floorMm, ceilingMm] = [-760, 3200]
  const lights = revision.lights
    .map(({ bearingDeg, distanceMm, heightMm = 0 }) => {
      const angle = (bearingDeg * Math.PI) / 180
      return { x: -distanceMm * Math.sin(angle), y: distanceMm * Math.cos(angle), z: heightMm }
    })
    .sort((a, b) => a.y - b.y)
    .map(({ x, y, z }) => {
      const head = at(x, y, z)
      // What is higher than a person hangs from above.
      const foot = at(x, y, z > 1000 ? ceilingMm : floorMm)
      const half = 130 * head.per
      return `<path d="M${foot.x} ${foot.y}L${head.x} ${head.y}" stroke="#3a3a3a" stroke-width="${18 * head.per}"/>
        <rect x="${head.x - half}" y="${head.y - half}" width="${2 * half}" height="${2 * half}" fill="#f4f4f2" stroke="#2a2a2a" stroke-width="6"/>`
    })
  const axis = at(0, 0, 0)
  const radius = (rimMm / 2 / Math.PI) * axis.per
  const half = ((revision.productSweptMm ?? 100) / 2) * axis.per
  const top = at(0, 0, revision.productHeightMm ?? 100)
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}">
    <rect width="100%" height="100%" fill="#77756f"/>
    <rect x="${widthPx * 0.24}" y="0" width="${widthPx * 0.52}" height="${axis.y + radius * 0.2}" fill="#dddbd5"/>
    ${lights.join('')}
    <ellipse cx="${axis.x}" cy="${axis.y}" rx="${radius}" ry="${radius * 0.24}" fill="#f7f6f2" stroke="#55534e" stroke-width="4"/>
    <rect x="${axis.x - half}" y="${top.y}" width="${2 * half}" height="${axis.y - top.y}" rx="${half * 0.3}" fill="#8d6f4c"/>
  </svg>`
  return sharp(Buffer.from(svg)).jpeg({ quality: 85 }).toBuffer()
}
