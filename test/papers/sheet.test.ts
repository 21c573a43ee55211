import { expect, it } from 'vitest'
import { printSheet, type Sheet, unprintable } from '../../main/papers/sheet.ts'
import { readPdf } from './readPdf.ts'

const plain: Sheet = {
  paper: 'A4',
  language: 'en',
  writtenAt: '2026-03-02T08:00:00.000Z',
  title: 'Quote Q-2026-0001 v2',
  sender: {
    name: 'Lindenhof Spin Studio',
    address: ['Lindenhof 3', '22085 Hamburg'],
    foot: ['Tax number 00/000/00000', 'studio@lindenhof.example'],
  },
  recipient: ['Halvorsen Lamps', 'Speicherweg 4', '20457 Hamburg'],
  facts: [['Day', '2 March 2026']],
  blocks: [
    {
      kind: 'table',
      columns: [
        { label: 'What', width: 5, align: 'left' },
        { label: 'Amount', width: 1, align: 'right' },
      ],
      rows: [['Eighteen spins', '€2,160.00']],
    },
    { kind: 'totals', rows: [{ label: 'Total', value: '€2,160.00', strong: true }] },
  ],
}

function withRows(count: number): Sheet {
  const columns = plain.blocks[0]?.kind === 'table' ? plain.blocks[0].columns : []
  const rows = Array.from({ length: count }, (_, i) => [`Spin number ${i + 1}`, '€120.00'])
  return { ...plain, blocks: [{ kind: 'table', columns, rows }] }
}

it('can be read back by another program, with its title and its own date', async () => {
  const { pages, title, created } = await readPdf(printSheet(plain))
  expect(title).toBe('Quote Q-2026-0001 v2')
  // PDF 32000-1, 7.9.4: dates as D:YYYYMMDDHHmmSS.
  expect(created).toMatch(/^D:20260302080000/)
  for (const text of [
    'Lindenhof Spin Studio',
    'Halvorsen Lamps',
    'Eighteen spins',
    '€2,160.00',
    'Page 1 of 1',
  ]) {
    expect(pages[0]).toContain(text)
  }
})

it('gives the same bytes for the same sheet', () => {
  expect(printSheet(plain).equals(printSheet(plain))).toBe(true)
})

it('repeats the table’s header on every page, loses no row and numbers the pages', async () => {
  const { pages } = await readPdf(printSheet(withRows(90)))
  expect(pages.length).toBeGreaterThan(1)
  pages.forEach((page, index) => {
    expect(page).toContain('Amount')
    expect(page).toContain(`Page ${index + 1} of ${pages.length}`)
  })
  const all = pages.join(' ')
  for (let row = 1; row <= 90; row += 1) expect(all).toContain(`Spin number ${row} `)
})

it('keeps a long text in its column by breaking it, and still holds every word', async () => {
  const words = Array.from({ length: 60 }, (_, i) => `word${i + 1}`)
  const sheet: Sheet = { ...plain, blocks: [{ kind: 'paragraph', heading: 'Terms', text: words.join(' ') }] }
  const { pages } = await readPdf(printSheet(sheet))
  for (const word of words) expect(pages.join(' ')).toContain(word)
})

it('never breaks a figure over lines: its column takes room from the words', async () => {
  const [wide, wider] = ['KWD\u00a01,234,567.890', '−KWD\u00a012,345,678.901'] as const
  const columns = [
    { label: 'What', width: 16, align: 'left' },
    { label: 'Price', width: 1, align: 'right' },
    { label: 'Amount', width: 1, align: 'right' },
  ] as const
  const sheet: Sheet = { ...plain, blocks: [{ kind: 'table', columns, rows: [['Spins', wide, wider]] }] }
  const [page] = (await readPdf(printSheet(sheet))).pages
  for (const figure of [wide, wider]) {
    expect(page?.replaceAll('\u00a0', ' ')).toContain(figure.replaceAll('\u00a0', ' '))
  }
})

it('prints a narrow no-break space as a wide one and marks letters the typeface lacks', async () => {
  const sheet: Sheet = { ...plain, recipient: ['Großhandel 1\u202f220 漢 漢'] }
  expect(unprintable(sheet)).toEqual(['漢'])
  expect(unprintable(plain)).toEqual([])
  const { pages } = await readPdf(printSheet(sheet))
  expect(pages[0]?.replaceAll('\u00a0', ' ')).toContain('Großhandel 1 220 ? ?')
})

it('fits US Letter as well as A4', async () => {
  const letter = printSheet({ ...withRows(60), paper: 'Letter' })
  // US Letter is 8.5 × 11 in, 612 × 792 pt; A4 is 210 × 297 mm (ISO 216), 595.28 × 841.89 pt.
  expect(letter.toString('latin1')).toContain('/MediaBox [0 0 612 792]')
  expect(printSheet(plain).toString('latin1')).toContain('/MediaBox [0 0 595.28 841.89]')
  expect((await readPdf(letter)).pages.join(' ')).toContain('Spin number 60')
})
