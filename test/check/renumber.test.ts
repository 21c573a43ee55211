import { describe, expect, it } from 'vitest'
import { renumbered, renumberedWords } from '../../main/trade/check/renumber.ts'

/** One frame was made void before the third: every later number is one higher. */
const number = (position: number) => (position < 3 ? position : position + 1)

describe('the numbers of frames in a sentence', () => {
  it('become the take’s, also at the end of a sentence and in a list', () => {
    expect(renumberedWords('Look at frame 7. Frames 2, 3 and 12 to 14 are dark.', number)).toBe(
      'Look at frame 8. Frames 2, 4 and 13 to 15 are dark.',
    )
  })

  it('become the take’s in the key too, and leave its other figures', () => {
    const finding = { key: 'same picture @4 @6', frames: [6, 4], sentence: 'It is so.', fault: null }
    expect(renumbered(finding, number).key).toBe('same picture @5 @7')
    expect(renumbered({ ...finding, key: 'horizon row 4' }, number).key).toBe('horizon row 4')
  })
})
