import { type ReactNode, useRef, useState } from 'react'
import { useRouteError } from 'react-router'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { Page } from '../parts/page.tsx'
import { breakage, breakageText } from './breakage.ts'
import css from './broken.module.css'
import { useStore } from './store.ts'

const title = 'Something broke, nothing was saved'

/** In place of a page that could not be drawn. */
export function BrokenPage() {
  const error = useRouteError()
  return (
    <Page title={title}>
      <Details
        error={error}
        sentence="This page could not be drawn; the others still can. Try again; if it breaks once more, copy the details below and send them to whoever looks after Turnsheet for you."
      >
        <Button kind="main" onClick={() => window.location.reload()}>
          Try again
        </Button>
      </Details>
    </Page>
  )
}

/** Over the page, when an act failed by a bug: the page and what was typed stay behind it. */
export function BrokenNotice() {
  const error = useStore(breakage)
  if (error === undefined) return null
  return (
    <Dialog title={title} onClose={() => breakage.set(undefined)}>
      <Details
        error={error}
        sentence="What you typed is still here. Try once more; if it breaks again, copy the details below and send them to whoever looks after Turnsheet for you."
      />
    </Dialog>
  )
}

function Details(props: {
  readonly error: unknown
  readonly sentence: string
  readonly children?: ReactNode
}) {
  const details = useRef<HTMLTextAreaElement>(null)
  const [isCopied, setCopied] = useState(false)
  const [at] = useState(() => new Date())
  const copy = async () => {
    details.current?.select()
    // A window that may not use the clipboard still copies what is marked.
    const copied = await navigator.clipboard?.writeText(details.current?.value ?? '').then(
      () => true,
      () => false,
    )
    setCopied(copied || document.execCommand('copy'))
  }
  return (
    <div className={css.broken}>
      <p>{props.sentence}</p>
      <textarea
        ref={details}
        className={css.details}
        aria-label="Details"
        readOnly
        value={breakageText(props.error, window.location.pathname, at)}
      />
      <ButtonRow>
        {props.children}
        <Button onClick={() => void copy()}>{isCopied ? 'Copied' : 'Copy the details'}</Button>
      </ButtonRow>
    </div>
  )
}
