import fc from 'fast-check'
import { expect, it } from 'vitest'
import { giveBack, lentBuffer } from '../../main/work/lentBuffers.ts'

const mega = 2 ** 20

it('room for files is lent to one at a time, as long as the file, and again once it was given back', () => {
  const acts = fc.array(
    fc.record({ bytes: fc.integer({ min: 0, max: 12 * mega }), givesBack: fc.nat(6), twice: fc.boolean() }),
    { maxLength: 40 },
  )
  fc.assert(
    fc.property(acts, (turns) => {
      const lent: Buffer[] = []
      for (const { bytes, givesBack, twice } of turns) {
        const room = lentBuffer(bytes)
        expect(room).toHaveLength(bytes)
        if (bytes > 0) expect(lent.map(({ buffer }) => buffer)).not.toContain(room.buffer)
        lent.push(room)
        if (lent.length <= givesBack) continue
        const [first] = lent.splice(0, 1)
        if (first) giveBack(first)
        if (first && twice) giveBack(first)
      }
      lent.forEach(giveBack)
    }),
    { numRuns: 40 },
  )
})

it('room is lent again, and what is as large as the largest files is let go', () => {
  const frame = lentBuffer(20 * mega)
  giveBack(frame)
  expect(lentBuffer(19 * mega).buffer).toBe(frame.buffer)
  const scan = lentBuffer(150 * mega)
  giveBack(scan)
  expect(lentBuffer(150 * mega).buffer).not.toBe(scan.buffer)
})
