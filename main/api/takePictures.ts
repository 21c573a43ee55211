import * as z from 'zod'
import type { Id } from '../../db/ids.ts'
import { keepTakePicture, removeTakePicture } from '../../db/takePictures.ts'
import { smallPicture } from '../work/smallPicture.ts'
import { call, type InStudio, idOf, router, text } from './kit.ts'

/** A JPEG of the largest cameras in use fits; what is larger is a raw file or a scan. */
const frameMaxBytes = 40_000_000

/** The picture a take is known by: its frame 1, made small before it is kept. */
export const takePictureCalls = router({
  /** Keeps a JPEG, PNG or WebP of up to 40 MB; what the bytes are is told by the bytes. */
  keep: call
    .input(
      z.object({
        takeId: idOf('take'),
        name: text('The picture’s name'),
        base64: z
          .string()
          .max(
            Math.ceil(frameMaxBytes / 3) * 4,
            'The picture is over 40 MB. Export a JPEG of frame 1 and pick that.',
          ),
      }),
    )
    .mutation(({ ctx, input }) =>
      keepFirstFrame(ctx, input.takeId, Buffer.from(input.base64, 'base64'), input.name),
    ),

  remove: call.input(z.object({ takeId: idOf('take') })).mutation(({ ctx, input }) => {
    removeTakePicture(ctx, input.takeId)
  }),
})

/** Makes a frame small and keeps it as the take's picture. Refuses what is no whole picture. */
export async function keepFirstFrame(
  ctx: InStudio,
  takeId: Id<'take'>,
  bytes: Uint8Array,
  name: string,
): Promise<{ readonly attachmentId: Id<'attachment'> }> {
  const small = await smallPicture(bytes, name)
  return { attachmentId: keepTakePicture(ctx, takeId, small.bytes, name, small.mediaType) }
}
