import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fileName, frameNames, namePattern, refuseEqualNames, safeText } from '../../main/trade/names.ts'

const values = { code: 'TK-104', name: 'Teapot', variant: 'blue', deliverable: 'web', job: '2026-0042' }

function names(pattern: string, framesPerRow: number[], differs: Partial<typeof values> = {}): string[] {
  return frameNames(namePattern(pattern), { ...values, ...differs }, framesPerRow)
}

describe('file names by a pattern', () => {
  it('number rows and frames from 1, filled with zeros', () => {
    expect(names('{code}_{row}_{frame:3}', [2, 1])).toEqual(['TK-104_1_001', 'TK-104_1_002', 'TK-104_2_001'])
    expect(names('{job}.{variant}-{frame:2}', [1])).toEqual(['2026-0042.blue-01'])
  })

  it('spell out or replace what a file name cannot carry', () => {
    expect(names('{code}_{frame:2}', [1], { code: 'A/12: "Größe" <é>' })).toEqual(['A-12-Groesse-e_01'])
    expect(safeText('../../etc')).toBe('..-..-etc')
    expect(safeText('Ståltråd ŁÓDŹ')).toBe('Staltrad-LODZ')
  })

  it('are refused where two would be equal, also on disks that do not tell capitals apart', () => {
    expect(() => names('{code}', [2])).toThrow('Two files would be named TK-104')
    expect(() => names('{code}_{frame:3}', [2, 2])).toThrow('{row}')
    expect(() => refuseEqualNames(['Cup_01', 'cup_01'])).toThrow('cup_01')
    expect(() => refuseEqualNames(['cup_01', 'cup_02'])).not.toThrow()
  })

  it('are refused where the frames would no longer sort', () => {
    expect(() => names('{code}_{frame:2}', [100])).toThrow('{frame:3}')
  })

  it('are refused where Windows keeps the name, or nothing is left of it', () => {
    // Microsoft, Naming Files, Paths and Namespaces (from memory): CON, PRN, AUX, NUL, COM0–9, LPT0–9, with or
    // without an extension, and no point at the end.
    for (const code of ['con', 'NUL', 'Com1', 'lpt9', 'aux.1']) {
      expect(() => names('{code}', [1], { code }), code).toThrow('Windows keeps that name')
    }
    expect(names('{code}', [1], { code: 'console' })).toEqual(['console'])
    expect(() => names('{code}', [1], { code: '??' })).toThrow("gives ''")
    expect(() => names('{code}.', [1])).toThrow('begins and ends')
    expect(() => names('{code}', [1], { code: '..' })).toThrow('begins and ends')
    expect(() => names('{name}', [1], { name: 'x'.repeat(121) })).toThrow('at most 120')
  })

  it('need a pattern that says something', () => {
    for (const bad of ['a/b_{frame}', 'a\\b', 'a:b', 'a b', '{code', 'é{code}']) {
      expect(() => namePattern(bad), bad).toThrow('which some systems do not take')
    }
    for (const bad of ['{sku}', '{}', '{frame:}', '{code:3}', '{frame:33}']) {
      expect(() => namePattern(bad), bad).toThrow('stands for nothing')
    }
    expect(() => namePattern('  ')).toThrow('empty')
  })

  it('never leave their folder and sort in the order of the frames', () => {
    fc.assert(
      fc.property(
        fc.string({ maxLength: 40, unit: 'binary' }),
        fc.integer({ min: 1, max: 400 }),
        (code, frames) => {
          const made = names('x{code}_{frame:3}', [frames], { code })
          expect(made).toHaveLength(frames)
          expect([...made].sort()).toEqual(made)
          for (const name of made) expect(name).toMatch(/^[A-Za-z0-9._-]+$/u)
        },
      ),
    )
    expect(fileName(namePattern('{frame}'), { ...values, row: 1, frame: 7 })).toBe('7')
  })
})
