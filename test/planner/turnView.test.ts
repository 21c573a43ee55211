import { describe, expect, it } from 'vitest'
import { setsView } from '../../renderer/planner/setsView.ts'
import { pxOfDegrees } from '../../renderer/planner/smoothView.ts'
import { turnView } from '../../renderer/planner/turnView.ts'
import { plainTyped, type Typed } from '../../renderer/planner/typed.ts'

const turnOf = (typed: Partial<Typed>) => turnView({ ...plainTyped, ...typed })
const closes = (typed: Partial<Typed>) => {
  const { value } = turnOf(typed)
  if (!value) throw new Error(`Refused: ${JSON.stringify(turnOf(typed).refusals)}`)
  return value
}

describe('the planned turn', () => {
  it('closes where the step divides the rim', () => {
    // Arithmetic: 1220 ÷ 5 = 244.
    const turn = closes({ rim: '1220', step: '5' })
    expect(turn.frames).toBe(244)
    expect(turn.sentence).toBe('1,220 mm ÷ 5 mm = 244: the turn closes.')
    expect(turn.framesToShoot).toBe(247)
    expect(turn.thirdOfTurn).toBe(81)
  })

  it('says by how much a step misses its start: in mm, degrees and part of a step', () => {
    // Arithmetic: 1223 ÷ 5 = 244.6; 245 steps are 1225 mm, 2 mm too long: 2 ÷ 1223 × 360 = 0.589°, 0.4 of a step.
    const turn = closes({ rim: '1223', step: '5' })
    expect(turn.frames).toBe(245)
    expect(turn.sentence).toContain('short by 2 mm, 0.59° or 0.4 of a step')
  })

  it('takes the step in divisions, degrees or frames alike', () => {
    expect(closes({ stepIn: 'divisions', step: '2.5', division: '2' }).frames).toBe(244)
    expect(closes({ stepIn: 'degrees', step: '1.5' }).frames).toBe(240)
    expect(closes({ stepIn: 'frames', step: '240' }).forms.degrees).toBe(1.5)
  })

  it('reckons the rim from a diameter, and longer where a tape lies on it', () => {
    // π × 388.3 = 1219.88 mm; π × 388.8 = 1221.45 mm (mathematics).
    expect(closes({ rimBy: 'diameter', rim: '388.3' }).rimUm10 / 1e4).toBeCloseTo(Math.PI * 388.3, 3)
    expect(closes({ rimBy: 'diameter and tape', rim: '388.3', tape: '0.5' }).rimUm10 / 1e4).toBeCloseTo(
      Math.PI * 388.8,
      3,
    )
  })

  it('puts the most even of the near turns first', () => {
    // 240 on 1220 mm jumps from 5 to 6 mm; 244 is 5 mm throughout.
    const [best] = closes({ stepIn: 'frames', step: '240' }).choices
    expect(best?.frames).toBe(244)
    expect(best?.jumpPart).toBe(0)
    expect(closes({ stepIn: 'frames', step: '240' }).choices.map(({ frames }) => frames)).toContain(240)
  })

  it.each([
    ['a rim of nothing', { rim: '0' }, 'rim', 'over 0'],
    ['a rim below nothing', { rim: '-1220' }, 'rim', 'over 0'],
    ['a rim in words', { rim: 'round' }, 'rim', 'not a number'],
    ['NaN', { rim: 'NaN' }, 'rim', 'not a number'],
    ['an empty rim', { rim: ' ' }, 'rim', 'missing'],
    ['a step longer than the rim', { step: '1300' }, 'step', 'over half of the rim'],
    ['one frame', { stepIn: 'frames', step: '1' }, 'step', 'from 2'],
    ['half a frame', { stepIn: 'frames', step: '2.5' }, 'step', 'can be kept'],
    ['a step finer than a turn may have', { step: '0.5' }, 'step', 'at most 1440'],
    ['frames finer than the tape', { stepIn: 'frames', step: '1300' }, 'step', 'finer than the tape'],
    ['a division of nothing', { division: '0' }, 'division', 'over 0'],
    ['an overlap below nothing', { overlap: '-1' }, 'overlap', 'from 0'],
    ['no rows', { rows: '0' }, 'rows', 'from 1'],
    ['an angle over half a turn', { stepIn: 'degrees', step: '200' }, 'step', '180°'],
  ] as const)('refuses %s at its field', (_, typed, field, words) => {
    expect(turnOf(typed).refusals?.[field]).toContain(words)
  })

  it('names every field that is wrong at once', () => {
    expect(Object.keys(turnOf({ rim: 'x', overlap: 'y' }).refusals ?? {}).sort()).toEqual(['overlap', 'rim'])
  })
})

describe('frame sets', () => {
  it('come out even where they divide the turn', () => {
    // 240 = 2^4 × 3 × 5, so 18, 36 and 72 leave a rest.
    const { value } = setsView(plainTyped, 240)
    expect(value?.even).toEqual([8, 12, 16, 24, 48])
    expect(value?.uneven).toEqual([18, 36, 72])
  })

  it('leave a gap of so many pixels as the side of the polygon on the outermost point’s circle', () => {
    // Sides of regular polygons: the hexagon's is half of the diameter (Euclid IV, 15), the square's is it over √2.
    expect(pxOfDegrees({ sweptPx: 1000 }, 60)).toBeCloseTo(500, 9)
    expect(pxOfDegrees({ sweptPx: 1000 }, 90)).toBeCloseTo(1000 / Math.SQRT2, 9)
  })

  it('differ by one frame at most where they do not, and every n-th leaves a short seam', () => {
    // 244 ÷ 24 = 10.17; every tenth frame: 25 frames, the last 4 frames before the start: 4 × 360 ÷ 244 = 5.90°.
    const { value } = setsView({ ...plainTyped, set: '24', nth: '10' }, 244)
    expect([value?.shortestGap, value?.longestGap]).toEqual([10, 11])
    expect(value?.nthCount).toBe(25)
    expect(value?.seamDeg).toBeCloseTo(5.9016, 3)
    expect(value?.nthGapDeg).toBeCloseTo(14.754, 3)
    expect(value?.isSeamEven).toBe(false)
  })

  it('refuse to be larger than the turn', () => {
    expect(setsView({ ...plainTyped, set: '245' }, 244).refusals?.set).toContain('from 1 to 244 frames')
  })
})
