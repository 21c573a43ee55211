import { describe, expect, it } from 'vitest'
import { toggled } from '../../renderer/parts/selection.ts'

const rows = [11, 12, 13, 14, 15]

describe('choosing rows', () => {
  it('changes the side of the one row pressed', () => {
    expect([...toggled(new Set([12]), 14, rows, undefined)]).toEqual([12, 14])
    expect([...toggled(new Set([12, 14]), 14, rows, undefined)]).toEqual([12])
  })

  it('takes the whole stretch from the last row pressed, in either direction', () => {
    expect([...toggled(new Set([12]), 14, rows, 12)]).toEqual([12, 13, 14])
    expect([...toggled(new Set([14]), 12, rows, 14)].sort()).toEqual([12, 13, 14])
  })

  it('drops the whole stretch where the row pressed was chosen', () => {
    expect([...toggled(new Set(rows), 13, rows, 15)]).toEqual([11, 12])
  })

  it('takes only the row where the last one is on another page', () => {
    expect([...toggled(new Set([99]), 13, rows, 99)]).toEqual([99, 13])
  })
})
