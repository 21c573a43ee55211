import fs from 'node:fs'
import { attachmentPath } from '../../db/attachments.ts'
import { studioZone } from '../../db/calendar.ts'
import type { Id } from '../../db/ids.ts'
import { photosOf, type RigPhoto } from '../../db/rigPhotos.ts'
import { findRevision } from '../../db/rigRevisions.ts'
import { findRig } from '../../db/rigs.ts'
import { findSettings } from '../../db/settings.ts'
import type { RebuildSheet, SheetPhoto } from '../papers/rebuildSheet.ts'
import { dayOf } from '../trade/calendar.ts'
import { rigCautions } from '../trade/caution.ts'
import { shown } from '../trade/measures.ts'
import { Refusal } from '../trade/refusal.ts'
import { drawnRig } from '../trade/rigDrawing/drawnRig.ts'
import { lightCells, rigFacts, settingsFacts } from '../trade/rigFacts.ts'
import type { InStudio } from './kit.ts'

/** Everything the rebuild sheet of a revision says, with what is dialled on it where settings are named. */
export function rebuildSheet(
  ctx: InStudio,
  of: {
    readonly rigRevisionId: Id<'rig_revision'>
    readonly settingsId: Id<'settings'> | null
    readonly paper: 'A4' | 'Letter'
  },
  writtenAt: string,
): RebuildSheet {
  const kept = findRevision(ctx.db, of.rigRevisionId)
  if (!kept) throw new Refusal('no-revision', 'This revision is not in the studio.')
  const settings = of.settingsId === null ? undefined : findSettings(ctx.db, of.settingsId)
  if (of.settingsId !== null && !settings) {
    throw new Refusal('no-settings', 'These settings are not in the studio.', { field: 'settingsId' })
  }
  const revision = shown(kept)
  const dialled = settings && shown(settings)
  return {
    paper: of.paper,
    writtenAt,
    title: `${findRig(ctx.db, kept.rigId)?.name ?? ''}, revision ${revision.revision}`,
    lead: `${revision.why} Written down by ${revision.person} on ${dayOf(revision.createdAt, studioZone(ctx.db))}.`,
    measured:
      'Distances are level, from the platter’s axis; heights over its surface; bearings clockwise from the camera, seen from above.',
    rig: drawnRig(revision, dialled?.rows),
    rigFacts: rigFacts(revision),
    settingsFacts: dialled ? settingsFacts(dialled) : [],
    lightHead: ['', 'Light', 'Bearing', 'Distance', 'Height', 'Falls', 'Power', 'Colour'],
    lights: revision.lights.map((light, index) => Object.values(lightCells(light, index))),
    cautions: rigCautions.map(({ sentence, pointer }) => `${sentence} ${pointer}`).join(' '),
    photos: photosOf(ctx.db, of.rigRevisionId).map((photo) => sheetPhoto(ctx, photo)),
  }
}

/** A kept photograph as the sheet prints it; it was made upright and small when it was kept. */
function sheetPhoto(ctx: InStudio, { sha256, widthPx, heightPx, caption }: RigPhoto): SheetPhoto {
  return {
    jpeg: fs.readFileSync(attachmentPath(ctx.folder, sha256)),
    width: widthPx,
    height: heightPx,
    caption: caption ?? '',
  }
}
