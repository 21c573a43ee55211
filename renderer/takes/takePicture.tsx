import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { FileDrop } from '../parts/fileDrop.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { readBase64 } from '../parts/readBase64.ts'
import { api, useAct } from '../shell/api.ts'
import css from './takePicture.module.css'

interface PicturedTake {
  readonly id: number
  readonly number: number
  readonly pictureSha256: string | null
}

/** The picture a take is known by, small beside its ring; nothing where none is kept. */
export function TakePicture({ take }: { readonly take: PicturedTake }) {
  if (take.pictureSha256 === null) return null
  return (
    <img className={css.small} src={`/files/${take.pictureSha256}`} alt={`Frame 1 of take ${take.number}`} />
  )
}

/** Keeps a picture of frame 1, or takes it away. */
export function TakePictureDialog(props: { readonly take: PicturedTake; readonly onClose: () => void }) {
  const { take, onClose } = props
  const keep = useAct(
    async (file: File) =>
      api.takePictures.keep.mutate({ takeId: take.id, name: file.name, base64: await readBase64(file) }),
    onClose,
  )
  const remove = useAct(() => api.takePictures.remove.mutate({ takeId: take.id }), onClose)
  return (
    <Dialog title={`Picture of take ${take.number}`} onClose={onClose}>
      <TakePicture take={take} />
      <FileDrop
        label={take.pictureSha256 ? 'Drop another picture of frame 1 here' : 'Drop a picture of frame 1 here'}
        hint="JPEG, PNG or WebP, up to 40 MB; a small copy is kept."
        accept="image/jpeg,image/png,image/webp"
        busy={keep.busy}
        onFile={keep.run}
      />
      {keep.refusal ? <FormRefusal sentence={keep.refusal.sentence} /> : null}
      {take.pictureSha256 ? (
        <ButtonRow>
          <Button kind="quiet" busy={remove.busy} onClick={() => remove.run()}>
            Take it away
          </Button>
        </ButtonRow>
      ) : null}
    </Dialog>
  )
}
