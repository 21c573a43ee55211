import sharp from 'sharp'
import { renderTake, turnAngles } from './render.ts'

/** A take of the known solid as a camera writes it: a JPEG a frame. */
export async function aTakeOfJpegs(take: {
  readonly framesPerTurn: number
  readonly frames: number
  /** Light of each frame in EV. */
  readonly lightEv: readonly number[]
}): Promise<readonly Buffer[]> {
  const { frames } = renderTake({
    kind: 'unsymmetrical',
    seed: 7,
    widthPx: 240,
    heightPx: 160,
    anglesDeg: turnAngles(take),
    lightEv: take.lightEv,
  })
  return Promise.all(
    frames.map(({ rgb, widthPx, heightPx }) =>
      sharp(rgb, { raw: { width: widthPx, height: heightPx, channels: 3 } })
        .jpeg({ quality: 92 })
        .toBuffer(),
    ),
  )
}
