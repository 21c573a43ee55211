import type { ReactNode } from 'react'
import { Button } from '../parts/button.tsx'
import { TextField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import { bridge } from '../shell/bridge.ts'

/** A folder of frames by its whole path: typed, or in the desktop window chosen by the system's own dialog. */
export function FolderField(props: {
  readonly label: string
  readonly value: string
  readonly onChange: (folder: string) => void
  readonly refusal?: string | undefined
  readonly children?: ReactNode
}) {
  const pick = async () => {
    const picked = await bridge?.pickFrameFolder()
    if (picked) props.onChange(picked)
  }
  return (
    <FieldLine>
      <TextField
        label={props.label}
        name="folder"
        value={props.value}
        onChange={props.onChange}
        width="wide"
        refusal={props.refusal}
        hint={
          bridge
            ? 'Its whole path. Nothing in it is ever changed.'
            : 'Its whole path on the computer where the studio runs. Nothing in it is ever changed.'
        }
      />
      {bridge ? <Button onClick={() => void pick()}>Choose the folder</Button> : null}
      {props.children}
    </FieldLine>
  )
}
