import { useState } from 'react'
import { Button } from '../parts/button.tsx'
import { Form } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import { FolderField } from '../takes/folderField.tsx'
import css from './aids.module.css'

/** The newest frame of a folder, followed while the page is open; nothing is asked before a folder is named. */
export function useNewestFrame(folder: string | undefined) {
  return useAsk(['checkAids', 'newest', folder], () => api.checkAids.newest.query({ folder: folder ?? '' }), {
    when: folder !== undefined,
    againWhile: () => true,
  })
}

/** The folder that is looked in, named once for all helps of the page. */
export function WatchedFolder(props: {
  readonly folder: string | undefined
  /** Offered first: what the take will be counted by, or what was used last at this bench. */
  readonly offered: string
  readonly onChange: (folder: string) => void
}) {
  const { folder } = props
  const [typed, setTyped] = useState<string>()
  const [isOpen, setOpen] = useState(folder === undefined)
  const named = typed ?? folder ?? props.offered
  const newest = useNewestFrame(folder)
  const look = useAct(
    () => api.checkAids.newest.query({ folder: named }),
    () => {
      props.onChange(named)
      setOpen(false)
    },
  )
  if (folder !== undefined && !isOpen) {
    return (
      <div className={css.folder}>
        <p>
          <span className={css.quiet}>Looking in </span>
          <span className={css.path}>{folder}</span>
          <span className={css.quiet}>
            {newest.data ? `, ${countText(newest.data.frames, 'frame')} there` : ''}
          </span>
        </p>
        <Button kind="quiet" onClick={() => setOpen(true)}>
          Another folder
        </Button>
      </div>
    )
  }
  return (
    <Form label="Folder that is looked in" refusal={look.refusal} onSubmit={() => look.run()}>
      <FolderField label="Folder the camera or tether writes to" value={named} onChange={setTyped}>
        <Button type="submit" kind="main" busy={look.busy}>
          Look there
        </Button>
      </FolderField>
    </Form>
  )
}
