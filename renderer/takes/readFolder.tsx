import { type ReactNode, useState } from 'react'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { numberText } from '../parts/format.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import type { Found } from './countTake.tsx'
import { FolderField } from './folderField.tsx'

/** Names a folder, reads its frames with progress, and shows what was found. */
export function ReadFolder({ children }: { readonly children: (found: Found) => ReactNode }) {
  const asked = useAsk(['frameFolders', 'reading'], () => api.frameFolders.reading.query(), {
    againWhile: (data) => data?.state === 'reading',
  })
  const reading = asked.data ?? undefined
  const [typed, setTyped] = useState<string>()
  const folder = typed ?? reading?.folder ?? ''
  const read = useAct(() => api.frameFolders.read.mutate({ folder }))
  const stop = useAct(() => api.frameFolders.stopReading.mutate())
  const isReading = reading?.state === 'reading'
  const found = reading?.state === 'done' && reading.folder === folder ? reading : undefined
  return (
    <>
      <Form label="Read the files" refusal={read.refusal} onSubmit={() => read.run()}>
        <FolderField label="Folder with the frames" value={folder} onChange={setTyped} />
        {isReading ? (
          <p role="status">{`Reading frame ${numberText(Math.min(reading.done + 1, reading.frames))} of ${numberText(reading.frames)}.`}</p>
        ) : null}
        {reading?.state === 'failed' ? (
          <FormRefusal sentence="The files could not be read to the end. Read them again." />
        ) : null}
        <ButtonRow>
          {isReading ? (
            <Button busy={stop.busy} onClick={() => stop.run()}>
              Stop reading
            </Button>
          ) : (
            <Button type="submit" kind={found ? 'plain' : 'main'} busy={read.busy}>
              {found ? 'Read the files again' : 'Read the files'}
            </Button>
          )}
        </ButtonRow>
      </Form>
      {found?.found.length === 0 ? (
        <p role="status">
          No frames lie in this folder. Name the one that the camera or the tether wrote to.
        </p>
      ) : null}
      {found && found.found.length > 0 ? children(found) : null}
    </>
  )
}
