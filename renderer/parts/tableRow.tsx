import type { KeyboardEvent, MouseEvent } from 'react'
import { Link, useNavigate } from 'react-router'
import css from './table.module.css'
import type { Column } from './table.tsx'

/** One row of a `Table`: its first cell is the link, the whole of it takes the press. */
export function TableRow<Row>(props: {
  readonly row: Row
  readonly columns: readonly Column<Row>[]
  readonly to: string | undefined
  /** The one row that Tab comes to; the others are reached by up and down. */
  readonly isStop: boolean
  readonly onStop: () => void
  readonly isChosen: boolean | undefined
  readonly onChoose: ((range: boolean) => void) | undefined
}) {
  const { row, to, onChoose } = props
  const navigate = useNavigate()
  const tabIndex = props.isStop ? 0 : -1
  const open = (event: MouseEvent) => {
    if (!to || event.defaultPrevented || isOwnControl(event.target)) return
    if (!window.getSelection()?.isCollapsed) return // the person marks text
    void navigate(to)
  }
  const onKeyDown = (event: KeyboardEvent<HTMLTableRowElement>) => {
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      const next =
        event.key === 'ArrowDown'
          ? event.currentTarget.nextElementSibling
          : event.currentTarget.previousElementSibling
      if (isTyping(event.target) || !next) return
      event.preventDefault()
      next.querySelector<HTMLElement>('[data-stop]')?.focus()
    } else if (event.key === ' ' && onChoose && event.target instanceof HTMLAnchorElement) {
      event.preventDefault()
      onChoose(event.shiftKey)
    }
  }
  const classes = [to && css.opens, props.isChosen && css.chosen].filter(Boolean).join(' ')
  return (
    <tr className={classes} onClick={open} onFocus={props.onStop} onKeyDown={onKeyDown}>
      {onChoose ? (
        <td className={css.check}>
          <input
            type="checkbox"
            aria-label="Choose this row"
            checked={props.isChosen ?? false}
            tabIndex={tabIndex}
            data-stop={to ? undefined : true}
            onChange={({ nativeEvent }) =>
              onChoose(nativeEvent instanceof globalThis.MouseEvent && nativeEvent.shiftKey)
            }
          />
        </td>
      ) : null}
      {props.columns.map((column, index) => {
        const classes = [column.figure && css.figure, column.tight && css.tight].filter(Boolean).join(' ')
        if (index > 0) {
          return (
            <td key={column.key} className={classes}>
              {column.cell(row)}
            </td>
          )
        }
        return (
          <th key={column.key} scope="row" className={classes}>
            {to ? (
              <Link to={to} className={css.rowLink} tabIndex={tabIndex} data-stop>
                {column.cell(row)}
              </Link>
            ) : (
              column.cell(row)
            )}
          </th>
        )
      })}
    </tr>
  )
}

function isOwnControl(target: EventTarget): boolean {
  return target instanceof Element && target.closest('a, button, input, select, textarea, label') !== null
}

function isTyping(target: EventTarget): boolean {
  return target instanceof HTMLInputElement
    ? target.type !== 'checkbox'
    : target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement
}
