import type { ButtonHTMLAttributes, ReactNode } from 'react'
import { Link } from 'react-router'
import css from './button.module.css'

/** `main`: the one act of a page. `quiet`: an aside. `grave`: takes something away. */
export type ButtonKind = 'plain' | 'main' | 'quiet' | 'grave'

interface ButtonProps extends Omit<ButtonHTMLAttributes<HTMLButtonElement>, 'className' | 'style'> {
  readonly kind?: ButtonKind
  /** While true the button says so, takes no second press and keeps its width. */
  readonly busy?: boolean
  /** For hands that hold a remote: the bench's buttons. */
  readonly large?: boolean
}

/** A button; `type` is `button` unless it is said to submit. */
export function Button({ kind = 'plain', busy = false, large = false, onClick, ...rest }: ButtonProps) {
  return (
    <button
      type="button"
      {...rest}
      className={classesOf(kind, busy, large)}
      aria-busy={busy || undefined}
      // A busy button keeps the focus, which `disabled` would throw away.
      aria-disabled={busy || undefined}
      onClick={(event) => {
        if (busy) event.preventDefault()
        else onClick?.(event)
      }}
    />
  )
}

/** A link that looks like a button: for going somewhere to do something. */
export function ButtonLink(props: {
  readonly to: string
  readonly kind?: ButtonKind
  readonly children: ReactNode
}) {
  return (
    <Link to={props.to} className={classesOf(props.kind ?? 'plain', false, false)}>
      {props.children}
    </Link>
  )
}

/** Buttons side by side, folding where the window is narrow. */
export function ButtonRow({ children }: { readonly children: ReactNode }) {
  return <div className={css.row}>{children}</div>
}

function classesOf(kind: ButtonKind, busy: boolean, large: boolean): string {
  return [css.button, kind !== 'plain' && css[kind], busy && css.busy, large && css.large]
    .filter(Boolean)
    .join(' ')
}
