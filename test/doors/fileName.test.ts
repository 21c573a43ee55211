import fc from 'fast-check'
import { expect, it } from 'vitest'
import { fileName } from '../../main/doors/fileName.ts'

it('keeps a plain name and takes out what makes a folder or what Windows refuses', () => {
  expect(fileName('Quote 7 – Möller.pdf')).toBe('Quote 7 – Möller.pdf')
  expect(fileName('../../etc/passwd')).toBe('-..-etc-passwd')
  expect(fileName('CON.pdf')).toBe('_CON.pdf')
  expect(fileName('..')).toBe('paper')
})

it('always gives one name of at most 120 characters that lies in no other folder', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', maxLength: 300 }), (name) => {
      const safe = fileName(name)
      expect(safe).not.toMatch(/[/\\:]/)
      expect(safe).not.toMatch(/^\.*$/)
      expect(safe.length).toBeLessThanOrEqual(121)
    }),
  )
})

it('keeps the ending of a long name', () => {
  expect(fileName(`${'a'.repeat(300)}.pdf`)).toHaveLength(120)
  expect(fileName(`${'a'.repeat(300)}.pdf`)).toMatch(/a\.pdf$/)
})
