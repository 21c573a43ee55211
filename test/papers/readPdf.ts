import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'

/** A PDF read back by another program: the words of each page in reading order of the file, and what it says of itself. */
export interface ReadPdf {
  readonly pages: readonly string[]
  readonly title: string
  readonly created: string
}

export async function readPdf(pdf: Buffer): Promise<ReadPdf> {
  const task = getDocument({ data: new Uint8Array(pdf), verbosity: 0, useSystemFonts: false })
  const document = await task.promise
  const info = (await document.getMetadata()).info as { Title: string; CreationDate: string }
  const pages: string[] = []
  for (let number = 1; number <= document.numPages; number += 1) {
    const { items } = await (await document.getPage(number)).getTextContent()
    pages.push(items.map((item) => ('str' in item ? item.str : '')).join(' '))
  }
  await task.destroy()
  return { pages, title: info.Title, created: info.CreationDate }
}
