import { describe, expect, it } from 'vitest'
import { plainTyped, typedOfAddress } from '../../renderer/planner/typed.ts'
import { bringsTurn, turnFromAddress, withoutTurn } from '../../renderer/quotes/addressTurn.ts'
import { plannerAddress } from '../../renderer/quotes/plannerAddress.ts'

const read = (address: string) => turnFromAddress(new URLSearchParams(address))

describe('a turn that the address brings to a quote', () => {
  it('sets frames, overlap, rows and the rim in mm, and drops the step that was typed', () => {
    expect(read('frames=244&overlap=3&rows=2&rim=1220.5')).toEqual({
      // 1220.5 mm in tenths of a micrometre.
      values: { framesPerTurn: 244, overlapFrames: 3, rows: 2, rimUm10: 12_205_000, stepUm10: null },
      sentences: [],
    })
    expect(read('overlap=0').values).toEqual({ overlapFrames: 0 })
  })

  it('leaves out what is no turn, and says so', () => {
    for (const [address, said] of [
      ['frames=abc', 'from 2 to 1440'],
      ['frames=1', 'from 2 to 1440'],
      ['frames=1e3', 'from 2 to 1440'],
      ['frames=', 'from 2 to 1440'],
      ['overlap=-3', 'from 0 to 1440'],
      ['rows=21', 'from 1 to 20'],
      ['rim=0', 'no rim from 100 to 10,000 mm'],
      ['rim=12.34567', 'no rim from 100 to 10,000 mm'],
      ['rim=NaN', 'no rim from 100 to 10,000 mm'],
    ] as const) {
      const { values, sentences } = read(address)
      expect(values, address).toEqual({})
      expect(sentences.join(' '), address).toContain(said)
    }
    expect(read('frames=0&rows=2').values).toEqual({ rows: 2 })
  })

  it('is taken out of the address, and nothing else is', () => {
    const params = new URLSearchParams('quote=7&frames=244&rim=1220')
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
    const turn = { framesPerTurn: 122, overlapFrames: 0, rows: 2, rimUm10: 12_205_000 }
    expect(plannedFrom(turn)).toEqual({
      ...plainTyped,
      rimBy: 'reading',
      rim: '1220.5',
      stepIn: 'frames',
      step: '122',
      overlap: '0',
      rows: '2',
    })
  })

  it('leaves what the quote lacks as the job has it', () => {
    const turn = { framesPerTurn: null, overlapFrames: null, rows: null, rimUm10: null }
    expect(plannedFrom(turn)).toEqual(plainTyped)
  })
})
