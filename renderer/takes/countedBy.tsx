import { SelectField } from '../parts/field.tsx'
import { api, useAsk } from '../shell/api.ts'
import { FolderField } from './folderField.tsx'

/** How the frames of a take will be counted. The folder used last at this bench is offered first. */
export function CountedBy(props: {
  readonly benchId: number | undefined
  /** undefined: by the key. */
  readonly folder: string | undefined
  readonly onChange: (folder: string | undefined) => void
}) {
  const { benchId, folder } = props
  const remembered = useAsk(
    ['frameFolders', 'remembered', benchId],
    () => api.frameFolders.remembered.query({ benchId: benchId ?? 0 }),
    { when: benchId !== undefined },
  )
  return (
    <>
      <SelectField
        label="Frames are counted"
        value={folder === undefined ? 'key' : 'folder'}
        options={[
          { value: 'key', label: 'by a key: space bar, page-turner or remote' },
          { value: 'folder', label: 'by the files arriving in a folder' },
        ]}
        onChange={(by) => props.onChange(by === 'key' ? undefined : (remembered.data?.folder ?? ''))}
      />
      {folder === undefined ? null : (
        <FolderField label="Folder the camera or tether writes to" value={folder} onChange={props.onChange} />
      )}
    </>
  )
}
