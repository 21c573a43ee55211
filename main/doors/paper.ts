/** An attachment or a paper on its way out: its bytes, or a stream of them, with its real name. */
export type Paper = {
  readonly mediaType: string
  readonly name: string
} & ({ readonly bytes: Uint8Array<ArrayBuffer> } | { readonly stream: ReadableStream<Uint8Array> })

// What a browser may show itself. Anything else, a page or a drawing with script in it above all, is
// handed over as a download, so that a file which came from outside never runs as a page of ours.
const shownInPlace = new Set(['application/pdf', 'image/png', 'image/jpeg', 'image/webp', 'text/plain'])

/** The answer that carries a paper: shown in place where that is safe, else a download under its real name. */
export function paperResponse(paper: Paper): Response {
  const way = shownInPlace.has(paper.mediaType.split(';')[0] ?? '') ? 'inline' : 'attachment'
  return new Response('bytes' in paper ? paper.bytes : paper.stream, {
    headers: {
      'content-type': paper.mediaType,
      'content-disposition': `${way}; filename*=UTF-8''${encodedName(paper.name)}`,
      'cache-control': 'private, no-cache',
    },
  })
}

/** All bytes of a paper, for the ways out that do not stream. */
export async function paperBytes(paper: Paper): Promise<Uint8Array<ArrayBuffer>> {
  if ('bytes' in paper) return paper.bytes
  return new Uint8Array(await new Response(paper.stream).arrayBuffer())
}

/** RFC 8187 leaves fewer characters bare than encodeURIComponent does. */
function encodedName(name: string): string {
  return encodeURIComponent(name).replace(/['()*]/g, (c) => `%${c.charCodeAt(0).toString(16).toUpperCase()}`)
}
