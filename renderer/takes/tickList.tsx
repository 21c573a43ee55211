import type { ReactNode } from 'react'
import { storeOf, useStore } from '../shell/store.ts'
import css from './turning.module.css'

/** One thing to look at or do; `more` says what, where it is longer than a line. */
export interface TickItem {
  readonly text: string
  readonly more?: ReactNode
}

/** What was ticked since the page was opened, by list and item; a tick lasts as long as the work it stands for. */
const ticked = storeOf<ReadonlySet<string>>(new Set())

/** A list to tick with a thumb. It reminds and holds nothing back. */
export function TickList(props: {
  /** Names the list: the same name finds its ticks again. */
  readonly of: string
  readonly title: string
  readonly items: readonly TickItem[]
}) {
  const done = useStore(ticked)
  const keyOf = ({ text }: TickItem) => `${props.of}: ${text}`
  const count = props.items.filter((item) => done.has(keyOf(item))).length
  return (
    <fieldset className={css.ticks}>
      <legend>
        {props.title} <span className={css.quiet}>{`${count} of ${props.items.length}`}</span>
      </legend>
      {props.items.map((item) => (
        <label key={item.text} className={css.tick}>
          <input
            type="checkbox"
            checked={done.has(keyOf(item))}
            onChange={(event) => {
              const next = new Set(done)
              if (event.target.checked) next.add(keyOf(item))
              else next.delete(keyOf(item))
              ticked.set(next)
            }}
          />
          <span>
            {item.text}
            {item.more ? <span className={css.tickMore}>{item.more}</span> : null}
          </span>
        </label>
      ))}
    </fieldset>
  )
}
