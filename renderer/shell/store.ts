import { useSyncExternalStore } from 'react'

/** One value that lives outside React and is drawn by it. */
export interface Store<T> {
  readonly get: () => T
  readonly set: (value: T) => void
  readonly listen: (listener: () => void) => () => void
}

export function storeOf<T>(first: T): Store<T> {
  let value = first
  const listeners = new Set<() => void>()
  return {
    get: () => value,
    set: (next) => {
      value = next
      for (const listener of listeners) listener()
    },
    listen: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  }
}

/** The store's value, drawn again whenever it is set. */
export function useStore<T>(store: Store<T>): T {
  return useSyncExternalStore(store.listen, store.get)
}
