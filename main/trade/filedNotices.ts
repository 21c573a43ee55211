import { countWords } from './countWords.ts'
import type { TimedFrame } from './filedTake.ts'
import { numberGaps } from './frameFiles.ts'

/** What a person should know of the files chosen for a take, each as a sentence; none where all is plain. */
export function filedNotices(
  frames: readonly TimedFrame[],
  wanted: { readonly framesPerTurn: number; readonly overlapFrames: number },
): string[] {
  const { framesPerTurn, overlapFrames } = wanted
  const needed = framesPerTurn + overlapFrames
  const files = frames.reduce((sum, frame) => sum + frame.files, 0)
  const local = frames.filter(({ clock }) => clock === 'camera, local').length
  const unread = frames.filter(({ clock }) => clock === 'file').length
  return [
    ...numberGaps(frames).map(({ missing }) =>
      missing.length === 1 ? `${missing[0]} is missing.` : `${missing[0]} to ${missing.at(-1)} are missing.`,
    ),
    frames.length > needed
      ? `${countWords(frames.length - needed, 'frame')} more than the turn and its overlap need. They count as overlap; if they belong to another take, choose other files as first and last.`
      : undefined,
    frames.length < framesPerTurn
      ? `${countWords(framesPerTurn - frames.length, 'frame')} of the turn ${framesPerTurn - frames.length === 1 ? 'is' : 'are'} lacking.`
      : undefined,
    files > frames.length
      ? `${countWords(files, 'file')} hold ${countWords(frames.length, 'frame')}: a raw file and the picture beside it are one.`
      : undefined,
    local > 0
      ? 'The files do not say in which time zone the camera’s clock stood: it is taken to be the studio’s.'
      : undefined,
    unread > 0
      ? `${countWords(unread, 'frame')} ${unread === 1 ? 'holds' : 'hold'} no time of exposure: the time the file was written stands in.`
      : undefined,
  ].filter((sentence) => sentence !== undefined)
}
