import { describe, expect, it } from 'vitest'
import type { TurnClosing } from '../../main/trade/check/turn/closing.ts'
import { type FrameMatch, matchWords } from '../../main/trade/check/turn/match.ts'
import type { TakeSteps } from '../../main/trade/check/turn/steps.ts'
import {
  closingFindings,
  closingVerdict,
  stepFindings,
  stepsVerdict,
} from '../../main/trade/check/turn/turnFindings.ts'

const steps: TakeSteps = {
  ratios: [null, 1, 1, 1, 1],
  missed: [],
  doubled: [],
  odd: [],
  unseen: [],
  notPlaced: 0,
  likely: [],
  isFine: false,
}
const closing: TurnClosing = {
  by: 'picture',
  reason: null,
  stepsPerTurn: 60,
  framesPerTurn: 60,
  closingFrame: 61,
  isForeseen: false,
  isRough: false,
  confidence: 0.9,
  loopIn: 2,
  loopOut: 61,
  seamRatio: 1,
}
const ended = { told: 0, hasEnded: true }

describe('what the turn of a take shows', () => {
  it('makes a fault of marks that were passed over somewhere, one for the whole take', () => {
    for (const notPlaced of [1, 2]) {
      const untold = { ...steps, notPlaced }
      expect(stepsVerdict(untold).state).toBe('found')
      expect(stepFindings(untold)).toMatchObject([
        { key: 'not placed', size: notPlaced, frames: [], fault: 'missed step' },
      ])
      expect(stepFindings(untold)[0]?.sentence).toMatch(/^(One mark was|2\smarks were) passed over/)
    }
    expect(stepFindings(steps)).toEqual([])
    const [likely] = stepFindings({ ...steps, notPlaced: 1, likely: [12, 40] })
    expect(likely?.sentence).toMatch(
      /where\. The likeliest places are before frames\s12 and 40\. Look through/,
    )
  })

  it('leaves the count where the product’s own light changes, and says what would tell', () => {
    const byCount = { ...closing, by: 'count', reason: 'product light', seamRatio: null } as const
    expect(closingVerdict(byCount, 60).sentence).toMatch(
      /light on the product changes .* count of 60\sframes stands.*mark on the platter’s edge/,
    )
    expect(closingFindings(byCount, 60, ended)).toEqual([])
  })

  it('makes a fault of a turn short of frames, unless the steps tell of each mark that was passed over', () => {
    const short = { ...closing, stepsPerTurn: 58, framesPerTurn: 58, closingFrame: 59 }
    const faultOf = (of: Partial<TurnClosing>, told: number, hasEnded: boolean) =>
      closingFindings({ ...short, ...of }, 60, { told, hasEnded }).map(({ fault }) => fault)
    expect(closingVerdict(short, 60).state).toBe('found')
    expect(closingFindings(short, 60, ended)).toMatchObject([
      { key: 'frames per turn', frames: [], fault: 'missed step' },
    ])
    expect(faultOf({}, 1, true)).toEqual(['missed step'])
    expect(faultOf({}, 2, true)).toEqual([null])
    // While it is shot, what is foreseen may still move.
    expect(faultOf({ isForeseen: true }, 0, false)).toEqual([null])
    expect(faultOf({ isForeseen: true }, 0, true)).toEqual(['missed step'])
    // What is good to a step or so is to be known alone.
    expect(faultOf({ isForeseen: true, isRough: true }, 0, true)).toEqual([null])
    expect(faultOf({ stepsPerTurn: 61, framesPerTurn: 61 }, 0, true)).toEqual([null])
  })

  it('tells of a seam that jumps at the two frames beside it', () => {
    const jumps = { ...closing, seamRatio: 2.3 }
    expect(closingVerdict(jumps, 60).state).toBe('found')
    const [seam, ...others] = closingFindings(jumps, 60, ended)
    expect(seam).toMatchObject({ key: 'seam', frames: [61, 2], fault: null })
    expect(seam?.sentence).toMatch(/From frame 61 back to frame 2 .* jumps 2\.3\ssteps/)
    expect(others).toEqual([])
  })

  it('finds nothing where all is as planned, or where the count alone stands', () => {
    expect(closingVerdict(closing, 60).state).toBe('clean')
    expect(closingFindings(closing, 60, ended)).toEqual([])
    const byCount = { ...closing, by: 'count', reason: 'alike', seamRatio: null } as const
    expect(closingFindings(byCount, 60, ended)).toEqual([])
  })
})

describe('the words of a match', () => {
  const told: FrameMatch = {
    exposureEv: 0,
    scale: 1,
    rightPart: 0,
    belowPart: 0,
    lean: { leanDeg: 0, errorDeg: 0.1 },
    pose: { aheadDeg: 0, steps: 0 },
    sentences: [],
  }

  it('say that it matches only where everything was compared', () => {
    const nothing = {
      exposureEv: null,
      scale: null,
      rightPart: null,
      belowPart: null,
      lean: null,
      pose: null,
      sentences: [],
    }
    expect(matchWords(told)).toBe('It matches.')
    expect(matchWords({ ...told, lean: null })).toBe('What can be told matches.')
    expect(matchWords({ ...nothing, exposureEv: 0 })).toBe('What can be told matches.')
    expect(matchWords(nothing)).toBe('It cannot be told by these pictures.')
    expect(matchWords({ ...nothing, sentences: ['Move it.'] })).toMatch(/^1\sthing to set right$/)
  })
})
