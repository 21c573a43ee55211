import { useEffect } from 'react'

/** Plain letters that act on a page; they wait while a field or a dialog has the keys. */
export function useLetters(letters: Readonly<Record<string, () => void>>): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const act = letters[event.key]
      if (!act || event.ctrlKey || event.metaKey || event.altKey) return
      if (document.activeElement?.closest('input, select, textarea, [contenteditable]')) return
      if (document.querySelector('dialog[open]')) return
      event.preventDefault()
      act()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [letters])
}
