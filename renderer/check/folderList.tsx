import { Button } from '../parts/button.tsx'
import { FolderField } from '../takes/folderField.tsx'

/** Folders that are read one after the other, each of which can be left out again. */
export function FolderList(props: {
  readonly folders: readonly string[]
  /** The label of the only one, and of one of several, counted from 1. */
  readonly alone: string
  readonly oneOf: (number: number) => string
  readonly onChange: (folders: readonly string[]) => void
}) {
  const { folders, alone, oneOf, onChange } = props
  const areMany = folders.length > 1
  return folders.map((folder, at) => (
    <FolderField
      key={at}
      label={areMany ? oneOf(at + 1) : alone}
      value={folder}
      onChange={(value) => onChange(folders.with(at, value))}
    >
      {areMany ? (
        <Button kind="quiet" onClick={() => onChange(folders.toSpliced(at, 1))}>
          Leave it out
        </Button>
      ) : null}
    </FolderField>
  ))
}
