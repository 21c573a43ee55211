import type { TimedFrame } from '../../main/trade/filedTake.ts'
import { baseName } from '../../main/trade/frameFiles.ts'
import words from '../look/words.module.css'
import { SelectField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import { countText, numberText, secondsText } from '../parts/format.ts'
import { useStudio } from '../shell/studio.ts'

const listedAtMost = 500

/** The first and the last file of a take, chosen among those found. */
export function FirstAndLast(props: {
  readonly frames: readonly TimedFrame[]
  readonly first: string
  readonly last: string
  readonly onChange: (first: string, last: string) => void
}) {
  const { frames, first, last } = props
  const { timeZone } = useStudio()
  const options = frames.map(({ key, file, atMs }) => ({
    value: key,
    label: `${baseName(file)}, ${timeText(atMs, timeZone)}`,
  }))
  return (
    <FieldLine>
      <SelectField
        label="First file"
        name="first"
        value={first}
        options={options}
        onChange={(key) => props.onChange(key, last)}
      />
      <SelectField
        label="Last file"
        name="last"
        value={last}
        options={options}
        onChange={(key) => props.onChange(first, key)}
      />
    </FieldLine>
  )
}

/** The files chosen, each with the time it was shot at and the step before it. */
export function FilesFound({ frames }: { readonly frames: readonly TimedFrame[] }) {
  const { timeZone } = useStudio()
  return (
    <details>
      <summary>{`${countText(frames.length, 'frame')} chosen`}</summary>
      <ol className={words.mono}>
        {frames.slice(0, listedAtMost).map(({ key, file, atMs }, index) => {
          const before = frames[index - 1]
          return (
            <li key={key}>
              {`${baseName(file)} ${timeText(atMs, timeZone)}${before ? ` +${secondsText((atMs - before.atMs) / 1000)}` : ''}`}
            </li>
          )
        })}
      </ol>
      {frames.length > listedAtMost ? <p>{`and ${numberText(frames.length - listedAtMost)} more`}</p> : null}
    </details>
  )
}

/** A time of exposure on the studio's clock, to the second. */
function timeText(atMs: number, timeZone: string): string {
  return new Intl.DateTimeFormat('en-GB', {
    timeZone,
    day: 'numeric',
    month: 'short',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
    hourCycle: 'h23',
  }).format(atMs)
}
