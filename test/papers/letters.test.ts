import { expect, it } from 'vitest'
import { printSheet, type Sheet } from '../../main/papers/sheet.ts'
import { readPdf } from './readPdf.ts'

// In a file of its own: what is tried shows only where nothing was printed before.

function saying(text: string): Sheet {
  return {
    paper: 'A4',
    language: 'en',
    writtenAt: '2026-03-02T08:00:00.000Z',
    title: text,
    sender: { name: 'Lindenhof Spin Studio', address: [], foot: [] },
    recipient: [],
    facts: [['Said', text]],
    blocks: [{ kind: 'totals', rows: [{ label: text, value: '', strong: true }] }],
  }
}

it('holds every plain letter after a paper of accented ones, in all weights', async () => {
  printSheet(saying('ÄÖÜäöüßéèêçñåøžšč'))
  const letters = 'Jack quietly moved up front and seized the big ball of wax'
  const page = (await readPdf(printSheet(saying(letters)))).pages[0]?.replaceAll(/\s+/gu, ' ') ?? ''
  // Title, fact and sum: three times.
  expect(page.split(letters).length).toBe(4)
})
