import type { QueryClient } from '@tanstack/react-query'
import { bridge } from './bridge.ts'
import { storeOf } from './store.ts'

const throttleMs = 150
const retryMs = 2000
const channelName = 'turnsheet-changes'

/** False while the stream of changes is cut; the page then says that it may be behind. */
export const connected = storeOf(true)

let client: QueryClient | undefined
let timer: ReturnType<typeof setTimeout> | undefined

/** Everything on screen is asked for again, at most once in 150 ms however much has changed. */
export function somethingChanged(): void {
  if (timer !== undefined) return
  timer = setTimeout(() => {
    timer = undefined
    void client?.invalidateQueries()
  }, throttleMs)
}

/** Keeps the answers of a query client fresh: hears of changes by the bridge or by server-sent events. */
export function followChanges(queryClient: QueryClient): void {
  client = queryClient
  if (bridge) {
    bridge.onChange(somethingChanged)
    return
  }
  // A browser opens at most six connections to one host, so all its tabs share one stream: the tab that holds
  // the lock listens and tells the others; when it is closed, the next one takes over.
  const others = new BroadcastChannel(channelName)
  others.onmessage = somethingChanged
  const tell = () => {
    somethingChanged()
    others.postMessage(null)
  }
  if (navigator.locks) void navigator.locks.request(channelName, () => streamForever(tell))
  else void streamForever(tell)
}

/** Listens until the tab is closed, opening the stream again whenever it was cut for good. */
function streamForever(tell: () => void): Promise<never> {
  const open = (isAgain: boolean) => {
    const events = new EventSource('/events')
    let wasCut = isAgain
    events.onopen = () => {
      connected.set(true)
      // Whatever happened while nobody listened is not told again.
      if (wasCut) tell()
      wasCut = false
    }
    events.onmessage = tell
    events.onerror = () => {
      connected.set(false)
      wasCut = true
      if (events.readyState === EventSource.CLOSED) setTimeout(() => open(true), retryMs)
    }
  }
  open(false)
  return new Promise(() => {})
}
