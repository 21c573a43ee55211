import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { expect } from 'vitest'
import { type ReadPdf, readPdf } from '../papers/readPdf.ts'
import { issueInvoice, takePayment } from './billing.ts'
import { deliver, pickAndShow, sendSamplesBack } from './handover.ts'
import { beginJob, bookBench, quoteJob, takeInSamples } from './order.ts'
import { turnTakes } from './shooting.ts'
import { addClient, makeStudio, setUpStudio, takeInProducts, writeDownRig } from './studioSetUp.ts'

/**
 * One order from the first start to its payment, by keys, labels and presses as a person would, at whatever
 * door the page came in by; then the invoice's paper is read back from the studio's folder.
 * @param page    a page on a folder that holds no studio yet
 * @param studio  that folder
 * @param exports a folder for the exported pictures
 */
export async function runMainJob(page: Page, studio: string, exports: string): Promise<void> {
  page.setDefaultTimeout(10_000)
  await makeStudio(page)
  await setUpStudio(page)
  await addClient(page)
  await takeInProducts(page)
  await writeDownRig(page)
  await beginJob(page, 'Slipware jugs')
  const quote = await quoteJob(page)
  await takeInSamples(page)
  await bookBench(page)
  await turnTakes(page)
  await pickAndShow(page)
  await deliver(page, exports)
  await sendSamplesBack(page)
  const invoice = await issueInvoice(page)
  // By hand from the price list: one first of a family at 120.00 and one following at 90.00, before 19 % tax;
  // the tax on the sum of the lines (EN 16931-1, BR-CO-17) is 0.19 × 210.00 = 39.90.
  expect(invoice).toMatchObject({ net: '€210.00', tax: '€39.90', total: '€249.90' })
  const papers = await keptPapers(studio)
  expect(wordsOf(papers, quote)).toContain(invoice.total)
  const words = wordsOf(papers, invoice.number)
  for (const word of ['PO-7731', invoice.net, invoice.tax, invoice.total]) expect(words).toContain(word)
  await takePayment(page)
}

/** The words of the kept paper that bears this number. */
function wordsOf(papers: readonly ReadPdf[], number: string): string {
  const paper = papers.find(({ title }) => number !== '' && title.includes(number))
  if (!paper) {
    throw new Error(
      `No paper is called ${number}. There are: ${papers.map(({ title }) => title).join('; ')}.`,
    )
  }
  return paper.pages.join(' ')
}

/** Every PDF among the files a studio keeps. */
async function keptPapers(studio: string): Promise<readonly ReadPdf[]> {
  const folder = join(studio, 'files')
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => readFileSync(join(entry.parentPath, entry.name)))
  return Promise.all(files.filter((file) => file.subarray(0, 5).toString() === '%PDF-').map(readPdf))
}
