import { describe, expect, it } from 'vitest'
import { framesInWords, framingOf } from '../../main/trade/check/outline/framing.ts'
import { traceOf } from '../../main/trade/check/outline/trace.ts'
import { type RenderOptions, renderTake, turnAngles } from './render.ts'

function framing(asked: Partial<RenderOptions>, marginPpm = 20_000) {
  const take = renderTake({ anglesDeg: turnAngles({ framesPerTurn: 12 }), platterY: null, ...asked })
  const traces = take.frames.map((frame) => traceOf(frame))
  return framingOf(traces, { frames: traces.map((_, i) => i + 1), marginPpm, framesPerTurn: traces.length })
}

describe('the product in the picture', () => {
  it('finds nothing where it keeps its room at every angle, and leaves the room that its size leaves', () => {
    const { state, findings, sides, sentence } = framing({ kind: 'can' })
    expect([state, findings]).toEqual(['clean', []])
    // A can of 66 mm in a field of 240 mm, nearer by its radius: 0.275 × 900/(900 − 33) = 0.2855 at most.
    const room = sides.flatMap(({ side, least }) => (side === 'left' || side === 'right' ? [least] : []))
    const swept = 1 - room.reduce((sum, one) => sum + one, 0)
    expect(room).toHaveLength(2)
    expect(swept).toBeGreaterThan(0.26)
    expect(swept).toBeLessThan(0.3)
    expect(sentence).toMatch(/stays in the picture; the least room is \d+\.\d\s%/u)
  })

  it('names the frames in which it leaves the picture, and the side', () => {
    // Off by 100 mm of the half field of 120 mm: farthest left at 90°, farthest right at 270°, frames 4 and 10 of 12.
    const { state, findings } = framing({ kind: 'can', offsetMm: 100 })
    expect(state).toBe('found')
    expect(findings.map(({ key }) => key)).toEqual(['leaves left', 'leaves right'])
    expect(findings[0]?.frames).toContain(4)
    expect(findings[0]?.frames).not.toContain(10)
    expect(findings[1]?.frames).toContain(10)
    expect(findings[1]?.sentence).toMatch(/leaves the picture at the right in frames\s10, 11/u)
  })

  it('names the frames in which it comes nearer than the margin', () => {
    const { findings } = framing({ kind: 'can', offsetMm: 40 }, 200_000)
    expect(findings.some(({ key }) => key === 'near left')).toBe(true)
    expect(findings.every(({ key }) => key.startsWith('near'))).toBe(true)
  })

  it('finds nothing in the outline of one frame alone that jumps to a side, and says which frame to look at', () => {
    const take = renderTake({
      kind: 'can',
      platterY: null,
      anglesDeg: turnAngles({ framesPerTurn: 24 }),
    })
    const traces = take.frames.map((frame) => traceOf(frame))
    const slipped = (...at: number[]) =>
      traces.map((trace, i) => {
        const { silhouette } = trace
        if (!silhouette || !at.includes(i)) return trace
        const rightPx = silhouette.rightPx.map(() => trace.widthPx)
        return { ...trace, silhouette: { ...silhouette, rightPx } }
      })
    const frames = traces.map((_, i) => i + 1)
    const one = framingOf(slipped(9), { frames, marginPpm: 20_000, framesPerTurn: frames.length })
    const clean = framingOf(traces, { frames, marginPpm: 20_000, framesPerTurn: frames.length })
    expect([one.state, one.findings]).toEqual(['clean', []])
    expect(one.sentence).toMatch(/In frame\s10 its outline alone, unlike the neighbours’, reaches/u)
    expect(one.sides.map(({ least }) => least)).toEqual(clean.sides.map(({ least }) => least))
    // Two that agree are no slip of one.
    const soFar = framingOf(traces, { frames, marginPpm: 20_000, framesPerTurn: frames.length + 1 })
    expect([clean, soFar].map(({ sentence }) => sentence.includes('stays in the picture so far;'))).toEqual([
      false,
      true,
    ])
    const two = framingOf(slipped(9, 10), { frames, marginPpm: 20_000, framesPerTurn: frames.length })
    expect(two.findings.map(({ key, frames: of }) => [key, of])).toEqual([['leaves right', [10, 11]]])
  })

  it('says nothing where no outline is known', () => {
    const { emptyFrame } = renderTake({ platterY: null })
    expect(framingOf([traceOf(emptyFrame)], { frames: [1], marginPpm: 0, framesPerTurn: 1 }).state).toBe(
      'unknown',
    )
  })

  it('writes frames as a person would', () => {
    expect(framesInWords([3])).toMatch(/^frame\s3$/u)
    expect(framesInWords([1, 2, 5, 6, 7, 12])).toMatch(/^frames\s1, 2, 5 to 7, 12$/u)
  })
})
