import { useState } from 'react'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { Form } from '../parts/form.tsx'
import { api, useAct } from '../shell/api.ts'
import { FolderField } from './folderField.tsx'
import type { TakePage } from './turningState.ts'

/** A running take goes on in another folder: a card was changed, or the camera began its next folder. */
export function FolderDialog({ page, onClose }: { readonly page: TakePage; readonly onClose: () => void }) {
  const [folder, setFolder] = useState(page.take.folder ?? '')
  const watch = useAct(() => api.frameFolders.watch.mutate({ takeId: page.take.id, folder }), onClose)
  return (
    <Dialog title="The take goes on in another folder" onClose={onClose}>
      <Form refusal={watch.refusal} onSubmit={() => watch.run()}>
        <p>
          What arrives there from now on counts; what lies there already does not. Frames counted so far stay
          in the folder that they lie in.
        </p>
        <FolderField label="Folder the camera or tether writes to now" value={folder} onChange={setFolder} />
        <ButtonRow>
          <Button large type="submit" kind="main" busy={watch.busy}>
            Count by this folder
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
