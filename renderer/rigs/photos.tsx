import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'

import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { TextField } from '../parts/field.tsx'
import { FileDrop } from '../parts/fileDrop.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { instantText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { readBase64 } from '../parts/readBase64.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './photos.module.css'

type Photo = Answers['rigPhotos']['of'][number]

/** Photographs of the set as it stood for a revision; they are added at any time, for they change nothing of it. */
export function Photos({ rigRevisionId, name }: { readonly rigRevisionId: number; readonly name: string }) {
  const photos = useAsk(['rigPhotos', rigRevisionId], () => api.rigPhotos.of.query({ rigRevisionId })).data
  const add = useAct(async (file: File) =>
    api.rigPhotos.add.mutate({
      rigRevisionId,
      name: file.name,
      caption: null,
      base64: await readBase64(file),
    }),
  )
  return (
    <Part title="Photographs of the set">
      {photos && photos.length > 0 ? (
        <ul className={css.photos}>
          {photos.map((photo) => (
            <OnePhoto key={photo.id} photo={photo} name={name} />
          ))}
        </ul>
      ) : null}
      <FileDrop
        label="Drop a photograph of the set here: the whole of it, a stand’s scale, a card’s place"
        hint="JPEG, PNG or WebP, up to 40 MB. It is kept upright, without the place and camera written in it."
        accept="image/jpeg,image/png,image/webp"
        busy={add.busy}
        onFile={add.run}
      />
      {add.refusal ? <FormRefusal sentence={add.refusal.sentence} /> : null}
    </Part>
  )
}

function OnePhoto({ photo, name }: { readonly photo: Photo; readonly name: string }) {
  const { timeZone } = useStudio()
  const [isWriting, setWriting] = useState(false)
  const takeOff = useAct(() => api.rigPhotos.takeOff.mutate({ photoId: photo.id }))
  const what = photo.caption ?? `${name}, as it stood`
  return (
    <li className={css.photo}>
      <a href={`/files/${photo.sha256}`} target="_blank" rel="noopener noreferrer">
        <img
          className={css.picture}
          src={`/files/${photo.sha256}`}
          alt={what}
          width={photo.widthPx}
          height={photo.heightPx}
          loading="lazy"
        />
      </a>
      <p>{photo.caption ?? <span className={words.quiet}>No caption yet</span>}</p>
      <p className={words.quiet}>{`${photo.person}, ${instantText(photo.addedAt, timeZone)}`}</p>
      <ButtonRow>
        <Button kind="quiet" aria-label={`Write the caption of ${what}`} onClick={() => setWriting(true)}>
          Caption
        </Button>
        <Button
          kind="quiet"
          aria-label={`Take it off: ${what}`}
          busy={takeOff.busy}
          onClick={() => takeOff.run()}
        >
          Take it off
        </Button>
      </ButtonRow>
      {takeOff.refusal ? <FormRefusal sentence={takeOff.refusal.sentence} /> : null}
      {isWriting ? <Caption photo={photo} onClose={() => setWriting(false)} /> : null}
    </li>
  )
}

function Caption({ photo, onClose }: { readonly photo: Photo; readonly onClose: () => void }) {
  const [caption, setCaption] = useState(photo.caption ?? '')
  const save = useAct(() => api.rigPhotos.caption.mutate({ photoId: photo.id, caption }), onClose)
  return (
    <Dialog title="What the photograph shows" onClose={onClose}>
      <Form refusal={save.refusal} onSubmit={() => save.run()}>
        <TextField
          label="Caption"
          name="caption"
          width="wide"
          value={caption}
          onChange={setCaption}
          autoFocus
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            Keep the caption
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
