import { describe, expect, it } from 'vitest'
import { renumberedWords } from '../../main/trade/check/renumber.ts'

/** One frame was made void before the third: every later number is one higher. */
const number = (position: number) => (position < 3 ? position : position + 1)

describe('the numbers of frames in a sentence', () => {
  it('become the take’s, also at the end of a sentence and in a list', () => {
    expect(renumberedWords('Look at frame 7. Frames 2, 3 and 12 to 14 are dark.', number)).toBe(
      'Look at frame 8. Frames 2, 4 and 13 to 15 are dark.',
    )
  })

  it('leave the name of a file as it is', () => {
    for (const name of ['Frame 0007.JPG', 'Frame 7.JPG', 'frame 12.nef', 'Frame 0007', 'Frame 7-2.JPG']) {
      expect(renumberedWords(`${name} is cut short, after frame 9.`, number)).toBe(
        `${name} is cut short, after frame 10.`,
      )
    }
  })
})
