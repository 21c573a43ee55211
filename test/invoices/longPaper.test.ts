import { execFileSync, spawnSync } from 'node:child_process'
import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aStudio } from '../studio.ts'
import { anOrder, deliver } from './order.ts'

const hasQpdf = spawnSync('qpdf', ['--version']).status === 0
if (!hasQpdf) console.warn('qpdf is not installed: the structure of the papers is NOT checked here.')

/** An issued invoice of 300 lines with very long words, as its file. */
async function aLongInvoice(paper: 'A4' | 'Letter') {
  const studio = aStudio()
  const { api, db, folder } = studio
  await api.studio.change({ paper, iban: 'DE89370400440532013000' })
  const lines = Array.from({ length: 300 }, (_, index) => ({
    kind: 'spins' as const,
    quantityMilli: 1000,
    priceMinor: 1000 + index,
    netMinor: 1000 + index,
    spins: index === 0 ? 1 : 0,
  }))
  const { jobId, shootIds } = await anOrder(studio, lines, { name: 'Halvorsen 漢 Lamps' })
  deliver(studio, jobId, shootIds)
  const { invoiceId } = await api.invoices.draft({ jobId })
  db.prepare('UPDATE invoice_line SET text = ? WHERE invoice_id = ? AND position = 150').run(
    'Ungebrochen'.repeat(36),
    invoiceId,
  )
  db.prepare(`UPDATE invoice_line SET text = text || ' line' WHERE invoice_id = ? AND position <> 150`).run(
    invoiceId,
  )
  const { paperId } = await api.invoices.issue({ invoiceId })
  return attachmentPath(folder, attachmentById(db, paperId)?.sha256 ?? '')
}

describe('an invoice of many pages', () => {
  it.each(['A4', 'Letter'] as const)(
    'on %s holds every line once under its heads, and its sums on one page',
    async (paper) => {
      const { pages } = await readPdf(fs.readFileSync(await aLongInvoice(paper)))
      expect(pages.length).toBeGreaterThan(5)
      const all = pages.join(' ').replaceAll(/\s+/gu, ' ')
      for (let position = 1; position <= 300; position += 1) {
        if (position === 150) continue
        expect(all.split(`spins ${position} line`).length, `line ${position}`).toBe(2)
      }
      // 300 × 10.00 and 0.01 for each of 0 to 299, which are 448.50; 20 % of 3,448.50 is 689.70.
      const sums = ['€3,448.50', '€689.70', '€4,138.20', 'Amount due']
      expect(pages.filter((page) => sums.every((sum) => page.includes(sum))).length).toBe(1)
      pages.forEach((page, index) => {
        expect(page).toContain(`Page ${index + 1} of ${pages.length}`)
        if (page.includes(' line')) expect(page).toContain('Quantity')
        if (index > 0) expect(page).toContain('Invoice I-2026-0001 · Lindenhof Spin Studio')
      })
      // A word too long for its column is broken and still whole: 36 times its eleven letters.
      expect(pages.join('').replaceAll(/\s/gu, '').split('Ungebrochen').length).toBe(37)
      // What the typeface lacks is a question mark, never an empty box.
      expect(all).toContain('Halvorsen ? Lamps')
    },
  )

  it.skipIf(!hasQpdf)('keeps the rules of PDF, and embeds every font it uses', async () => {
    const file = await aLongInvoice('A4')
    expect(execFileSync('qpdf', ['--check', file], { encoding: 'utf8' })).toContain(
      'No syntax or stream encoding errors',
    )
    const json = execFileSync('qpdf', ['--json', file], { encoding: 'utf8', maxBuffer: 1e9 })
    const described = json.match(/"\/FontDescriptor"/gu)?.length ?? 0
    expect(described).toBeGreaterThan(0)
    expect(json.match(/"\/FontFile2"/gu)?.length).toBe(json.match(/"\/Type": "\/FontDescriptor"/gu)?.length)
  })
})
