import type { ReactNode } from 'react'
import { Empty, Waiting } from './page.tsx'
import type { ShownRefusal } from './refusal.ts'

/** What this part needs of an answer from `useAsk`. */
interface Answer<T> {
  readonly data: T | undefined
  readonly refusal: ShownRefusal | undefined
}

/** Draws an answer from `useAsk`: holds its place until it comes, and says why where it is refused. */
export function Asked<T>(props: { readonly of: Answer<T>; readonly children: (data: T) => ReactNode }) {
  const { data, refusal } = props.of
  if (refusal) return <Empty sentence={refusal.sentence} />
  return data === undefined ? <Waiting /> : props.children(data)
}
