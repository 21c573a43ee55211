import { useSyncExternalStore } from 'react'

/** Whether this page can fill the screen here at all: some telephones and embedded pages cannot. */
export const canFillScreen = typeof document !== 'undefined' && document.fullscreenEnabled === true

/** Whether the page fills the screen now. */
export function useFillsScreen(): boolean {
  return useSyncExternalStore(
    (onChange) => {
      document.addEventListener('fullscreenchange', onChange)
      return () => document.removeEventListener('fullscreenchange', onChange)
    },
    () => document.fullscreenElement !== null,
  )
}

/** Fills the screen with the page, or gives it back. A browser that refuses leaves all as it is. */
export function turnFullScreen(): void {
  const turned = document.fullscreenElement
    ? document.exitFullscreen()
    : document.documentElement.requestFullscreen({ navigationUI: 'hide' })
  turned.catch(() => {})
}
