import type { StudioHouse } from '../api/house.ts'

/** A quiet line so often that no proxy or sleeping tablet takes the stream for dead. */
const heartbeatMs = 15_000

/**
 * The stream of changes as server-sent events: one message `{"count":…,"path":…}` for each change of the
 * studio. It ends when the page leaves or when `closing` is aborted.
 */
export function changeEvents(house: StudioHouse, closing: AbortSignal): Response {
  const encoder = new TextEncoder()
  let stop = () => {}
  const body = new ReadableStream<Uint8Array>({
    start(controller) {
      const send = (text: string) => controller.enqueue(encoder.encode(text))
      const unlisten = house.listen((change) => send(`data: ${JSON.stringify(change)}\n\n`))
      const beat = setInterval(() => send(': still here\n\n'), heartbeatMs)
      const end = () => {
        stop()
        controller.close()
      }
      stop = () => {
        unlisten()
        clearInterval(beat)
        closing.removeEventListener('abort', end)
      }
      send('retry: 1000\n\n')
      if (closing.aborted) end()
      else closing.addEventListener('abort', end)
    },
    cancel: () => stop(),
  })
  return new Response(body, {
    headers: { 'content-type': 'text/event-stream', 'cache-control': 'no-store', 'x-accel-buffering': 'no' },
  })
}
