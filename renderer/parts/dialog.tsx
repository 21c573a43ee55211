import { type ReactNode, useEffect, useId, useRef, useState } from 'react'
import { Button, ButtonRow } from './button.tsx'
import css from './dialog.module.css'
import { TextArea } from './field.tsx'
import { Form } from './form.tsx'
import type { ShownRefusal } from './refusal.ts'

/**
 * A dialog over the page. Mount it to open it, unmount it in `onClose`; Esc closes it, and the focus goes back
 * to where it was. Esc is easily pressed by mistake: where something was typed, it asks for a second press.
 */
export function Dialog(props: {
  readonly title: string
  readonly onClose: () => void
  /** 'as pictures need': as wide as the window lets it be. */
  readonly wide?: boolean | 'as pictures need'
  readonly children: ReactNode
}) {
  const titleId = useId()
  const element = useRef<HTMLDialogElement>(null)
  const isTyped = useRef(false)
  const [isAsking, setAsking] = useState(false)
  useEffect(() => {
    const before = document.activeElement
    const dialog = element.current
    dialog?.showModal()
    return () => {
      dialog?.close()
      if (before instanceof HTMLElement && before.isConnected) before.focus()
    }
  }, [])
  return (
    <dialog
      ref={element}
      className={[
        css.dialog,
        props.wide === true && css.wide,
        props.wide === 'as pictures need' && css.pictures,
      ]
        .filter(Boolean)
        .join(' ')}
      aria-labelledby={titleId}
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return
        // A dialog may stand over another; Esc is for the upper one alone.
        event.stopPropagation()
        event.preventDefault()
        if (isTyped.current && !isAsking) setAsking(true)
        else props.onClose()
      }}
      onCancel={(event) => {
        event.preventDefault()
        props.onClose()
      }}
      onInput={() => {
        isTyped.current = true
        setAsking(false)
      }}
    >
      <h2 id={titleId} className={css.title}>
        {props.title}
      </h2>
      <div className={css.body}>{props.children}</div>
      {isAsking ? (
        <p className={css.asking} role="alert">
          What you typed here is not kept yet. Press Esc again to leave it, or go on typing.
        </p>
      ) : null}
      {/* Last in order, so that the focus begins at the first field. */}
      <div className={css.close}>
        <Button kind="quiet" onClick={props.onClose}>
          Close
        </Button>
      </div>
    </dialog>
  )
}

/** Asks once more before something that cannot be taken back. */
export function Confirm(props: {
  readonly title: string
  /** What will happen, in a sentence. */
  readonly sentence: ReactNode
  /** The act's own verb: `Delete the draft`, never `OK`. */
  readonly act: string
  readonly grave?: boolean
  readonly busy?: boolean
  readonly refusal?: ShownRefusal | undefined
  readonly onConfirm: () => void
  readonly onClose: () => void
}) {
  return (
    <Dialog title={props.title} onClose={props.onClose}>
      <Form onSubmit={props.onConfirm} refusal={props.refusal}>
        <p>{props.sentence}</p>
        <ButtonRow>
          <Button type="submit" kind={props.grave ? 'grave' : 'main'} busy={props.busy ?? false}>
            {props.act}
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/**
 * A refusal about the world outside that a reason may overrule: shows its sentence and asks why it is right
 * to go on. The reason is written to the history.
 */
export function Overrule(props: {
  readonly refusal: ShownRefusal
  readonly act: string
  readonly busy?: boolean
  readonly onOverrule: (reason: string) => void
  readonly onClose: () => void
}) {
  const [reason, setReason] = useState('')
  const [isMissing, setMissing] = useState(false)
  return (
    <Dialog title="Go on all the same?" onClose={props.onClose}>
      <Form
        onSubmit={() => {
          if (reason.trim()) props.onOverrule(reason.trim())
          else setMissing(true)
        }}
      >
        <p>{props.refusal.sentence}</p>
        <TextArea
          label="Why it is right to go on"
          value={reason}
          onChange={setReason}
          rows={2}
          hint="The reason is kept in the job’s history."
          refusal={isMissing && !reason.trim() ? 'The reason is empty. Type it in.' : undefined}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={props.busy ?? false}>
            {props.act}
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
