/** Lets the person keep a file that the page has in hand, in one piece or in parts. */
export function saveFile(name: string, contents: string | readonly string[], mediaType: string): void {
  const parts = typeof contents === 'string' ? [contents] : [...contents]
  const url = URL.createObjectURL(new Blob(parts, { type: `${mediaType};charset=utf-8` }))
  const link = document.createElement('a')
  link.href = url
  link.download = name
  link.click()
  // The save begins after this turn of the page; the address has to live until then.
  setTimeout(() => URL.revokeObjectURL(url), 60_000)
}
