import { Refusal } from '../main/trade/refusal.ts'
import { keepFile } from './attachments.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { findRevision } from './rigRevisions.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** A photograph of the set, as it stood for a revision. */
export interface RigPhoto {
  readonly id: Id<'rig_photo'>
  readonly attachmentId: Id<'attachment'>
  readonly sha256: string
  readonly widthPx: number
  readonly heightPx: number
  readonly caption: string | null
  readonly person: string
  readonly addedAt: string
}

/** A picture that was made small and upright, ready to be kept. */
export interface KeptPicture {
  readonly bytes: Uint8Array
  readonly name: string
  readonly mediaType: string
  readonly widthPx: number
  readonly heightPx: number
}

/** More would be looked at by nobody while building. */
export const mostPhotos = 12
/** For how long a photograph that was added by mistake can be taken off; the store holds to the same. */
const takenOffWithinMs = 3_600_000

/** The photographs of a revision, the first added first. */
export function photosOf(db: Db, rigRevisionId: Id<'rig_revision'>): readonly RigPhoto[] {
  return prepared<[number], RigPhoto>(
    db,
    `SELECT p.id, p.attachment_id AS attachmentId, a.sha256, p.width_px AS widthPx, p.height_px AS heightPx, p.caption,
       person.name AS person, p.added_at AS addedAt
     FROM rig_photo p JOIN attachment a ON a.id = p.attachment_id JOIN person ON person.id = p.person_id
     WHERE p.rig_revision_id = ? AND p.taken_off_at IS NULL ORDER BY p.id`,
  ).all(rigRevisionId)
}

/**
 * Keeps a photograph with a revision, whenever that is: it is evidence of what stood and changes nothing of it.
 * Refuses a revision that is not in the studio, the same photograph twice, and more than a dozen.
 */
export function addPhoto(
  writing: Writing & { readonly folder: string },
  rigRevisionId: Id<'rig_revision'>,
  picture: KeptPicture,
  caption: string | null,
): Id<'rig_photo'> {
  const { db, now, who } = writing
  return inOneTransaction(db, () => {
    const revision = findRevision(db, rigRevisionId)
    if (!revision) throw new Refusal('no-revision', 'This revision is not in the studio.')
    const there = photosOf(db, rigRevisionId)
    if (there.length >= mostPhotos) {
      throw new Refusal(
        'too-many-photos',
        `This revision has ${mostPhotos} photographs already. One that shows the whole set says more than another.`,
        { field: 'picture' },
      )
    }
    const attachmentId = keepFile(writing, writing.folder, picture.bytes, picture.name, picture.mediaType)
    if (there.some((photo) => photo.attachmentId === attachmentId)) {
      throw new Refusal('photo-there', `${picture.name} is with this revision already. Pick another.`, {
        field: 'picture',
      })
    }
    const photoId = newId<Id<'rig_photo'>>(
      prepared<unknown[]>(
        db,
        `INSERT INTO rig_photo (rig_revision_id, attachment_id, width_px, height_px, caption, person_id, added_at)
         VALUES (?, ?, ?, ?, ?, ?, ?)`,
      ).run(rigRevisionId, attachmentId, picture.widthPx, picture.heightPx, caption, who.personId, now),
    )
    writeEvent(writing, {
      subject: 'rig',
      subjectId: revision.rigId,
      what: 'photograph of the set added',
      detail: { revision: revision.revision, name: picture.name },
    })
    return photoId
  })
}

/** Says anew what a photograph shows. */
export function captionPhoto(writing: Writing, photoId: Id<'rig_photo'>, caption: string | null): void {
  inOneTransaction(writing.db, () => {
    const photo = standingPhoto(writing.db, photoId)
    prepared<unknown[]>(writing.db, 'UPDATE rig_photo SET caption = ? WHERE id = ?').run(caption, photoId)
    tell(writing, photo, 'photograph of the set captioned', { caption })
  })
}

/** Takes off a photograph that was added by mistake. Refuses once an hour has gone by: then it is evidence. */
export function takeOffPhoto(writing: Writing, photoId: Id<'rig_photo'>): void {
  inOneTransaction(writing.db, () => {
    const photo = standingPhoto(writing.db, photoId)
    if (Date.parse(writing.now) - Date.parse(photo.addedAt) > takenOffWithinMs) {
      throw new Refusal(
        'photo-stays',
        'This photograph has been with the revision for more than an hour and stays. Say in its caption what is wrong with it.',
      )
    }
    prepared<unknown[]>(writing.db, 'UPDATE rig_photo SET taken_off_at = ? WHERE id = ?').run(
      writing.now,
      photoId,
    )
    tell(writing, photo, 'photograph of the set taken off', {})
  })
}

interface StandingPhoto {
  readonly rigId: Id<'rig'>
  readonly revision: number
  readonly addedAt: string
}

function standingPhoto(db: Db, photoId: Id<'rig_photo'>): StandingPhoto {
  const photo = prepared<[number], StandingPhoto>(
    db,
    `SELECT v.rig_id AS rigId, v.revision, p.added_at AS addedAt
     FROM rig_photo p JOIN rig_revision v ON v.id = p.rig_revision_id WHERE p.id = ? AND p.taken_off_at IS NULL`,
  ).get(photoId)
  if (!photo) throw new Refusal('no-photo', 'This photograph is not with the rig any more.')
  return photo
}

function tell(
  writing: Writing,
  { rigId, revision }: StandingPhoto,
  what: string,
  detail: Readonly<Record<string, unknown>>,
): void {
  writeEvent(writing, { subject: 'rig', subjectId: rigId, what, detail: { revision, ...detail } })
}
