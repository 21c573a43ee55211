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

/** The words of each page with the lower edge of their line, in mm from the page's upper edge. */
export async function placedText(
  pdf: Buffer,
): Promise<readonly (readonly { readonly text: string; readonly bottomMm: number }[])[]> {
  const task = getDocument({ data: new Uint8Array(pdf), verbosity: 0, useSystemFonts: false })
  const document = await task.promise
  const pages = []
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number)
    const [, , , top = 0] = page.view
    const { items } = await page.getTextContent()
    pages.push(
      items.flatMap((item) =>
        'str' in item && item.str.trim() !== ''
          ? [{ text: item.str, bottomMm: ((top - (item.transform[5] as number)) * 25.4) / 72 }]
          : [],
      ),
    )
  }
  await task.destroy()
  return pages
}
