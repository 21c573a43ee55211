import type { FramePicture } from '../work/checkSession.ts'

/**
 * The answer that carries a frame's picture. It may be kept by the page's browser, and is asked about each time: a
 * picture that is still the same is not sent again.
 * @param heldTag  the tag of the picture that the browser holds
 */
export function frameResponse(picture: FramePicture | undefined, heldTag: string | undefined): Response {
  if (!picture) {
    return new Response('This frame’s picture cannot be had now. Check the take again.', {
      status: 404,
      headers: { 'content-type': 'text/plain; charset=utf-8', 'cache-control': 'no-store' },
    })
  }
  const headers = { 'cache-control': 'private, no-cache', etag: `"${picture.tag}"` }
  if (heldTag === headers.etag) return new Response(null, { status: 304, headers })
  return new Response(picture.jpeg, { headers: { ...headers, 'content-type': 'image/jpeg' } })
}
