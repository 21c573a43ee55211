import type { ReactNode } from 'react'
import { ButtonLink } from './button.tsx'
import { Empty, Page, Waiting } from './page.tsx'
import type { ShownRefusal } from './refusal.ts'

/** What this part needs of an answer from `useAsk`. */
interface Answer<T> {
  readonly data: T | undefined
  readonly refusal: ShownRefusal | undefined
}

/** Draws an answer from `useAsk`: holds its place until it comes, and says why where it is refused. */
export function Asked<T>(props: {
  readonly of: Answer<T>
  /** The answer is the whole page: a refusal then bears a heading and a way on. */
  readonly isPage?: boolean
  readonly children: (data: T) => ReactNode
}) {
  const { data, refusal } = props.of
  if (refusal && props.isPage) {
    return (
      <Page title="Not here">
        <Empty sentence={refusal.sentence} act={<ButtonLink to="/board">Go to the board</ButtonLink>} />
      </Page>
    )
  }
  if (refusal) return <Empty sentence={refusal.sentence} />
  return data === undefined ? <Waiting /> : props.children(data)
}
