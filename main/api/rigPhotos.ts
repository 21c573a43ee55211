import * as z from 'zod'
import { addPhoto, captionPhoto, photosOf, takeOffPhoto } from '../../db/rigPhotos.ts'
import { smallPicture } from '../work/smallPicture.ts'
import { call, idOf, maybeText, router, text } from './kit.ts'

/** A JPEG of the largest cameras in use fits; what is larger is a raw file or a scan. */
const mostBytes = 40_000_000
/** Enough to read the figures on a stand at full screen, and to print. */
const longestSidePx = 2400

const OnePhoto = z.object({ photoId: idOf('rig_photo') })

/** Photographs of the set, kept with a revision of a rig. */
export const rigPhotoCalls = router({
  of: call
    .input(z.object({ rigRevisionId: idOf('rig_revision') }))
    .query(({ ctx, input }) => photosOf(ctx.db, input.rigRevisionId)),

  /** Keeps a JPEG, PNG or WebP of up to 40 MB, made upright and no larger than 2,400 px; the bytes say what it is. */
  add: call
    .input(
      z.object({
        rigRevisionId: idOf('rig_revision'),
        name: text('The picture’s name'),
        caption: maybeText(200),
        base64: z
          .base64('The picture could not be read. Pick the file again.')
          .max(Math.ceil(mostBytes / 3) * 4, 'The picture is over 40 MB. Save it smaller, as a JPEG.'),
      }),
    )
    .mutation(async ({ ctx, input }) => {
      const { name, caption } = input
      const small = await smallPicture(Buffer.from(input.base64, 'base64'), name, longestSidePx)
      return { photoId: addPhoto(ctx, input.rigRevisionId, { ...small, name }, caption) }
    }),

  caption: call.input(OnePhoto.extend({ caption: maybeText(200) })).mutation(({ ctx, input }) => {
    captionPhoto(ctx, input.photoId, input.caption)
  }),

  takeOff: call.input(OnePhoto).mutation(({ ctx, input }) => {
    takeOffPhoto(ctx, input.photoId)
  }),
})
