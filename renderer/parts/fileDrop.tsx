import { useRef, useState } from 'react'
import { Button } from './button.tsx'
import css from './fileDrop.module.css'

/** Takes a file that is dropped on it or picked by its button. */
export function FileDrop(props: {
  /** What is wanted: `Drop a product list here`. */
  readonly label: string
  readonly act?: string
  readonly hint?: string
  /** As the file input takes it: `.csv,text/csv`. */
  readonly accept?: string
  readonly busy?: boolean
  readonly onFile: (file: File) => void
}) {
  const input = useRef<HTMLInputElement>(null)
  const [isOver, setOver] = useState(false)
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is a second way; the button does the same by keyboard
    <div
      className={isOver ? `${css.drop} ${css.over}` : css.drop}
      onDragOver={(event) => {
        event.preventDefault()
        setOver(true)
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault()
        setOver(false)
        const file = event.dataTransfer.files[0]
        if (file) props.onFile(file)
      }}
    >
      <p>{props.label}</p>
      <input
        ref={input}
        type="file"
        hidden
        accept={props.accept}
        onChange={(event) => {
          const file = event.target.files?.[0]
          // Emptied, so that the same file can be picked again after it was put right.
          event.target.value = ''
          if (file) props.onFile(file)
        }}
      />
      <Button busy={props.busy ?? false} onClick={() => input.current?.click()}>
        {props.act ?? 'Pick a file'}
      </Button>
      {props.hint ? <p className={css.hint}>{props.hint}</p> : null}
    </div>
  )
}
