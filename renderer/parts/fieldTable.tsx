import type { ReactNode } from 'react'
import words from '../look/words.module.css'
import css from './fieldTable.module.css'

/** The head of one column; `figure` right-aligns it, `width` holds it in pixels. */
export interface FieldColumn {
  readonly head: string
  readonly figure?: boolean
  readonly width?: number
  /** Read out and not drawn: over a column of buttons. */
  readonly isHeadSpoken?: boolean
}

/**
 * Fields in rows and columns, typed in place. Its children are `tr`; a field in a cell keeps its own label for
 * a screen reader, so that label names the row too: `Glossy, small, first`.
 */
export function FieldTable(props: {
  /** Says what the table holds; read out, not drawn. */
  readonly caption: string
  readonly columns: readonly FieldColumn[]
  /** As wide as the page; else as wide as its columns. */
  readonly wide?: boolean
  readonly children: ReactNode
}) {
  return (
    <div className={css.frame}>
      <table className={props.wide ? `${css.table} ${css.wide}` : css.table}>
        <caption className={words.spoken}>{props.caption}</caption>
        <thead>
          <tr>
            {props.columns.map(({ head, figure, width, isHeadSpoken }) => (
              <th
                key={head}
                scope="col"
                className={figure ? css.figure : undefined}
                style={width === undefined ? undefined : { width, minWidth: width }}
              >
                <span className={isHeadSpoken ? words.spoken : undefined}>{head}</span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>{props.children}</tbody>
      </table>
    </div>
  )
}

/** A cell that shows a figure among fields, in line with them. */
export function FigureCell({ children }: { readonly children: ReactNode }) {
  return <td className={css.figure}>{children}</td>
}
