import type { ReactNode } from 'react'
import { FormRefusal } from '../parts/form.tsx'
import type { Answer } from '../shell/api.ts'
import css from './aids.module.css'

/** A frame that was looked at, and why it could not be. */
interface Looked {
  readonly file: string
  readonly trouble: string | null
}

/**
 * What a help says of the newest frame: waits for the first, names one that cannot be read, and marks an answer that
 * is still about the frame before.
 */
export function NewestFrame<T extends Looked>(props: {
  readonly answer: Answer<T>
  /** Said while no frame lies there: what to shoot. */
  readonly waiting: string
  readonly children: (looked: T) => ReactNode
}) {
  const { data, refusal, stale } = props.answer
  if (refusal) {
    return refusal.code === 'no-frame' ? (
      <p role="status">{props.waiting}</p>
    ) : (
      <FormRefusal sentence={refusal.sentence} />
    )
  }
  if (data === undefined) return <p role="status">Looking at the newest frame.</p>
  return (
    <div className={css.looked} aria-busy={stale}>
      <p className={css.quiet}>
        The newest frame is <span className={css.path}>{data.file}</span>.
      </p>
      {data.trouble === null ? props.children(data) : <FormRefusal sentence={data.trouble} />}
    </div>
  )
}
