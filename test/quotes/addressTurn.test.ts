import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anglesView } from '../../renderer/planner/anglesView.ts'
import { quoteAddress } from '../../renderer/planner/quoteAddress.ts'
import { turnView } from '../../renderer/planner/turnView.ts'
import { plainTyped, typedOfAddress } from '../../renderer/planner/typed.ts'
import { bringsTurn, turnFromAddress, withoutTurn } from '../../renderer/quotes/addressTurn.ts'
import { plannerAddress } from '../../renderer/quotes/plannerAddress.ts'
import { keyedRow, readRows } from '../../renderer/quotes/quoteValue.ts'

const read = (address: string) => turnFromAddress(new URLSearchParams(address))

describe('a turn that the address brings to a quote', () => {
  it('sets the rows and the rim in mm, and drops the step that was typed', () => {
    const { values, sentences } = read('row=0_244_82&row=30.5_122_41&rim=1220.5')
    expect(sentences).toEqual([])
    expect(readRows(values.rows ?? [])).toEqual([
      { viewAngleMdeg: 0, framesPerTurn: 244, overlapFrames: 82 },
      { viewAngleMdeg: 30_500, framesPerTurn: 122, overlapFrames: 41 },
    ])
    // 1220.5 mm in tenths of a micrometre.
    expect(values).toMatchObject({ rimUm10: 12_205_000, stepUm10: null })
    expect(read('rim=1220').values).toEqual({ rimUm10: 12_200_000 })
  })

  it('leaves out what is no turn, and says so', () => {
    for (const [address, said] of [
      ['row=0_abc_3', 'with 2 to 1440 frames'],
      ['row=0_1_3', 'with 2 to 1440 frames'],
      ['row=0_1441_3', 'with 2 to 1440 frames'],
      ['row=0_1e3_3', 'with 2 to 1440 frames'],
      ['row=', 'with 2 to 1440 frames'],
      ['row=0_244_-3', 'with 2 to 1440 frames'],
      ['row=91_244_3', 'no angle from -90° to 90°'],
      ['row=NaN_244_3', 'no angle from -90° to 90°'],
      ['row=0_244_3&row=0_36_3', 'Row 2 looks from the same angle as row 1'],
      [Array.from({ length: 21 }, (_, k) => `row=${k}_244_3`).join('&'), 'brings 21 rows'],
      ['rim=0', 'no rim from 100 to 10,000 mm'],
      ['rim=12.34567', 'no rim from 100 to 10,000 mm'],
      ['rim=NaN', 'no rim from 100 to 10,000 mm'],
    ] as const) {
      const { values, sentences } = read(address)
      expect(values, address).toEqual({})
      expect(sentences.join(' '), address).toContain(said)
    }
    expect(read('row=0_1_3&rim=1220').values).toEqual({ rimUm10: 12_200_000 })
  })

  it('is taken out of the address, and nothing else is', () => {
    const params = new URLSearchParams('quote=7&row=0_244_3&row=30_36_3&rim=1220')
    expect(bringsTurn(params)).toBe(true)
    expect(withoutTurn(params).toString()).toBe('quote=7')
    expect(bringsTurn(withoutTurn(params))).toBe(false)
  })
})

describe('the way from a quote to the planner', () => {
  const plannedFrom = (turn: Parameters<typeof plannerAddress>[1]) => {
    const [path, query] = plannerAddress(7, turn).split('?')
    expect(path).toBe('/planner')
    return typedOfAddress(new URLSearchParams(query), plainTyped)
  }

  it('brings the turn that the quote has now', () => {
    const rows = [keyedRow({ viewAngleMdeg: 0, framesPerTurn: 122, overlapFrames: 0 })]
    expect(plannedFrom({ rows, rimUm10: 12_205_000 })).toEqual({
      ...plainTyped,
      rimBy: 'reading',
      rim: '1220.5',
      stepIn: 'frames',
      step: '122',
      overlap: '0',
      rows: '1',
      angle: '0',
    })
  })

  it('leaves what the quote lacks as the job has it', () => {
    const rows = [
      { ...keyedRow({ viewAngleMdeg: 0, framesPerTurn: 2, overlapFrames: 0 }), framesPerTurn: null },
    ]
    expect(plannedFrom({ rows, rimUm10: null })).toEqual(plainTyped)
  })

  it('leads back to the quote with the very same rows and rim, however many and unequal', () => {
    const row = fc.record({
      viewAngleMdeg: fc.integer({ min: -90_000, max: 90_000 }),
      framesPerTurn: fc.integer({ min: 2, max: 1220 }),
      overlapFrames: fc.nat(1440),
    })
    const rowsOf = fc.uniqueArray(row, {
      minLength: 1,
      maxLength: 20,
      selector: ({ viewAngleMdeg }) => viewAngleMdeg,
    })
    fc.assert(
      fc.property(rowsOf, (rows) => {
        const typed = plannedFrom({ rows: rows.map(keyedRow), rimUm10: 12_200_000 })
        const turn = turnView(typed).value
        const angles = anglesView(typed, rows.length).value
        if (!turn || !angles) throw new Error('The planner refuses the rows of a quote.')
        const { values } = read(quoteAddress(7, turn, angles).split('?')[1] ?? '')
        expect(readRows(values.rows ?? [])).toEqual(rows)
        expect(values.rimUm10).toBe(12_200_000)
      }),
    )
  })
})
