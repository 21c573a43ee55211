import { type RefObject, useEffect } from 'react'
import type { Answers } from '../../main/api/types.ts'

export type BoardJob = Answers['board']['jobs']['jobs'][number]

/** Plain letters of the board; they wait while a field or a dialog has the keys. */
export function useBoardLetters(
  letters: Readonly<Record<string, (jobId: number | undefined) => void>>,
): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const act = letters[event.key]
      if (!act || event.ctrlKey || event.metaKey || event.altKey) return
      const focused = document.activeElement
      if (focused?.closest('input, select, textarea, [contenteditable]')) return
      if (document.querySelector('dialog[open] textarea, dialog[open] input')) return
      event.preventDefault()
      act(jobIdAt(focused))
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  })
}

/** The job whose link has the focus: a ring of the board or a row of its list. */
function jobIdAt(element: Element | null): number | undefined {
  const id = element
    ?.closest('a[href]')
    ?.getAttribute('href')
    ?.match(/^\/jobs\/(\d+)$/)?.[1]
  return id === undefined ? undefined : Number(id)
}

/** Moves the focus over what hangs on the board: left and right along a station, up and down to the nearest. */
export function moveOverBoard(key: string, chart: RefObject<HTMLElement | null>): boolean {
  const focused = document.activeElement
  if (!(focused instanceof HTMLElement) || focused.dataset.hung === undefined) return false
  const lines = [...(chart.current?.querySelectorAll('[data-line]') ?? [])]
    .map((line) => [...line.querySelectorAll<HTMLElement>('[data-hung]')])
    .filter((line) => line.length > 0)
  const at = lines.findIndex((line) => line.includes(focused))
  const next = nextOver(key, lines, at, focused)
  next?.focus()
  next?.scrollIntoView({ block: 'nearest' })
  return next !== undefined
}

function nextOver(
  key: string,
  lines: readonly (readonly HTMLElement[])[],
  at: number,
  focused: HTMLElement,
): HTMLElement | undefined {
  const line = lines[at] ?? []
  switch (key) {
    case 'ArrowRight':
      return line[line.indexOf(focused) + 1]
    case 'ArrowLeft':
      return line[line.indexOf(focused) - 1]
    case 'ArrowDown':
      return nearest(lines[at + 1], focused)
    case 'ArrowUp':
      return nearest(lines[at - 1], focused)
    default:
      return undefined
  }
}

function nearest(line: readonly HTMLElement[] | undefined, to: HTMLElement): HTMLElement | undefined {
  const x = Number(to.dataset.hung)
  const away = (element: HTMLElement) => Math.abs(Number(element.dataset.hung) - x)
  return line?.toSorted((a, b) => away(a) - away(b))[0]
}
