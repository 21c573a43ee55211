import { type KeyboardEvent, useEffect, useId, useRef, useState } from 'react'
import { useNavigate } from 'react-router'
import { isTicketLike } from '../../main/trade/ticketCode.ts'
import { reportScan } from '../scan/scanning.ts'
import { api, useAsk } from './api.ts'
import css from './searchBox.module.css'

const settleMs = 90

/**
 * Finds a client, product code, job, quote or invoice number. `/` or Ctrl+K goes to it; up and down choose,
 * Enter opens, Esc leaves. A ticket that is scanned or typed into it opens its spin.
 */
export function SearchBox() {
  const id = useId()
  const navigate = useNavigate()
  const input = useRef<HTMLInputElement>(null)
  const [typed, setTyped] = useState('')
  const [isOpen, setOpen] = useState(false)
  const [at, setAt] = useState(0)
  const text = useSettled(typed.trim(), settleMs)
  const answer = useAsk(['search', text], () => api.search.find.query({ text }), { when: text !== '' })
  const hits = text === '' ? [] : (answer.data?.hits ?? [])
  const isTicket = isTicketLike(typed)
  const isShown = isOpen && text !== '' && answer.data !== undefined && !isTicket
  useSearchKeys(() => input.current?.select())

  const leave = () => {
    setTyped('')
    setOpen(false)
    input.current?.blur()
  }
  const open = (to: string) => {
    leave()
    void navigate(to)
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const hit = hits[at]
    if (event.key === 'Escape') {
      setOpen(false)
      if (!isShown) input.current?.blur()
    } else if (event.key === 'Enter' && isTicket) {
      leave()
      reportScan(typed)
    } else if (event.key === 'Enter' && hit && isShown) open(hit.to)
    else if (event.key === 'ArrowDown' && hits.length > 0) setAt((at + 1) % hits.length)
    else if (event.key === 'ArrowUp' && hits.length > 0) setAt((at + hits.length - 1) % hits.length)
    else return
    event.preventDefault()
  }

  return (
    <search className={css.search}>
      <input
        ref={input}
        className={css.input}
        type="text"
        role="combobox"
        aria-label="Find a client, product, job or number"
        aria-keyshortcuts="/ Control+K"
        aria-expanded={isShown}
        aria-controls={`${id}-hits`}
        aria-autocomplete="list"
        aria-activedescendant={isShown && hits.length > 0 ? `${id}-${at}` : undefined}
        autoComplete="off"
        spellCheck={false}
        placeholder="Find"
        value={typed}
        onChange={(event) => {
          setTyped(event.target.value)
          setAt(0)
          setOpen(true)
        }}
        onFocus={() => setOpen(true)}
        onBlur={() => setOpen(false)}
        onKeyDown={onKeyDown}
      />
      {typed === '' ? (
        <span className={css.key} aria-hidden="true">
          /
        </span>
      ) : null}
      <div
        id={`${id}-hits`}
        className={css.hits}
        hidden={!isShown}
        role="listbox"
        aria-label="Found"
        // The press must not take the focus from the input before it is counted.
        onMouseDown={(event) => event.preventDefault()}
      >
        {isShown && hits.length === 0 ? (
          <p className={css.none}>
            Nothing is called “{text}”. Try a client’s name, a product code, or a job, quote or invoice
            number.
          </p>
        ) : null}
        {hits.map((hit, index) => (
          // biome-ignore lint/a11y/useFocusableInteractive: the input keeps the focus and names the active option
          // biome-ignore lint/a11y/useKeyWithClickEvents: the input takes the keys
          <div
            key={`${hit.kind} ${hit.id}`}
            id={`${id}-${index}`}
            className={css.hit}
            role="option"
            aria-selected={index === at}
            ref={index === at ? (element) => element?.scrollIntoView({ block: 'nearest' }) : undefined}
            onMouseMove={() => setAt(index)}
            onClick={() => open(hit.to)}
          >
            <span className={css.kind}>{hit.kind}</span>
            <span className={css.label}>{hit.label}</span>
            <span className={css.detail}>{hit.detail}</span>
          </div>
        ))}
      </div>
    </search>
  )
}

/** A value once it has stood still for a while. */
function useSettled(value: string, waitMs: number): string {
  const [settled, setSettled] = useState(value)
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), waitMs)
    return () => clearTimeout(timer)
  }, [value, waitMs])
  return settled
}

/** Calls `go` on `/` (outside of fields) and on Ctrl+K or ⌘K (anywhere). */
function useSearchKeys(go: () => void): void {
  const latest = useRef(go)
  latest.current = go
  useEffect(() => {
    const onKey = (event: globalThis.KeyboardEvent) => {
      const isChord = (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'k'
      const isSlash = event.key === '/' && !event.ctrlKey && !event.metaKey && !isTyping(event.target)
      if (!isChord && !isSlash) return
      if (document.querySelector('dialog[open]')) return
      event.preventDefault()
      latest.current()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [])
}

function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement && target.closest('input, textarea, select, [contenteditable]') !== null
  )
}
