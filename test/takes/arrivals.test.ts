import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { Arrivals, patienceMs, steadyMs } from '../../main/trade/arrivals.ts'
import type { SeenFile } from '../../main/trade/frameFiles.ts'

/** A folder as it stands at each reading, and what was counted from it. */
function aFolder(known: readonly string[] = []) {
  const files = new Map<string, SeenFile>()
  let nowMs = 1_000_000
  let arrivals = new Arrivals(known)
  const counted: { key: string; file: string; atMs: number }[] = []
  return {
    counted,
    names: () => counted.map(({ file }) => file),
    put: (name: string, bytes: number, modifiedMs = nowMs) => files.set(name, { name, bytes, modifiedMs }),
    remove: (name: string) => files.delete(name),
    read(afterMs = steadyMs, isMissed = false) {
      nowMs += afterMs
      const arrived = arrivals.read([...files.values()], nowMs, nowMs, isMissed)
      for (const one of arrived.whole) {
        counted.push(one)
        arrivals.counted(one.key)
      }
      return arrived
    },
    /** The program is started again: it knows what was there before and what it counted. */
    restart() {
      arrivals = new Arrivals([...known, ...counted.map(({ key }) => key)])
    },
  }
}

describe('frames that arrive in a folder', () => {
  it('count once their size stands still, and not while they are being written', () => {
    const folder = aFolder()
    for (const bytes of [10, 20, 30]) {
      folder.put('IMG_0001.JPG', bytes)
      expect(folder.read().writing).toEqual(['IMG_0001.JPG'])
    }
    folder.read()
    expect(folder.names()).toEqual(['IMG_0001.JPG'])
  })

  it('are counted at the instant they were first seen, though they were whole later', () => {
    const folder = aFolder()
    folder.put('IMG_0001.JPG', 10)
    folder.read()
    folder.put('IMG_0001.JPG', 20)
    folder.read()
    folder.read()
    expect(folder.counted).toMatchObject([{ atMs: 1_000_000 + steadyMs }])
  })

  it('count by their own times where they came while nobody looked', () => {
    const folder = aFolder()
    folder.put('IMG_0001.JPG', 10, 400_000)
    folder.put('IMG_0002.JPG', 10, 406_000)
    folder.read(steadyMs, true)
    folder.read()
    expect(folder.counted.map(({ atMs }) => atMs)).toEqual([400_000, 406_000])
  })

  it('are one frame where the raw file comes after its picture, or before it', () => {
    const folder = aFolder()
    folder.put('IMG_0001.JPG', 10)
    folder.read()
    folder.put('IMG_0001.CR2', 50)
    folder.put('IMG_0002.CR2', 50)
    folder.read()
    folder.read()
    folder.put('IMG_0002.JPG', 10)
    folder.read()
    folder.read()
    expect(folder.names()).toEqual(['IMG_0001.JPG', 'IMG_0002.CR2'])
  })

  it('wait for one shot before them that is still being written, but not for ever', () => {
    const folder = aFolder()
    folder.put('IMG_0001.CR2', 0)
    folder.put('IMG_0002.CR2', 40)
    for (let waited = 0; waited < patienceMs; waited += 1000) expect(folder.read(1000).whole).toEqual([])
    folder.read(1000)
    expect(folder.names()).toEqual(['IMG_0002.CR2'])
    folder.put('IMG_0001.CR2', 40)
    folder.read()
    folder.read()
    expect(folder.names()).toEqual(['IMG_0002.CR2', 'IMG_0001.CR2'])
  })

  it('do not count where they lay there before, nor again after they were away', () => {
    const folder = aFolder(['img_0001'])
    folder.put('IMG_0001.JPG', 10)
    folder.put('IMG_0002.JPG', 10)
    folder.read()
    folder.read()
    folder.remove('IMG_0002.JPG')
    expect(folder.read().vanished).toEqual(['img_0002'])
    folder.put('IMG_0002.JPG', 12)
    expect(folder.read().returned).toEqual(['img_0002'])
    folder.read()
    expect(folder.names()).toEqual(['IMG_0002.JPG'])
  })

  /** One thing that happens between two readings. */
  const happening = fc.oneof(
    {
      weight: 5,
      arbitrary: fc.record({
        kind: fc.constant('shoot' as const),
        burst: fc.integer({ min: 1, max: 5 }),
        raw: fc.boolean(),
        slow: fc.boolean(),
      }),
    },
    fc.record({ kind: fc.constant('write' as const) }),
    fc.record({ kind: fc.constant('delete' as const), which: fc.nat(40) }),
    fc.record({ kind: fc.constant('restart' as const) }),
    fc.record({ kind: fc.constant('away' as const) }),
    {
      weight: 5,
      arbitrary: fc.record({ kind: fc.constant('look' as const), ms: fc.integer({ min: 1, max: 2000 }) }),
    },
  )

  it('count exactly once each, in the order they were shot, whatever happens on the way', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 9999 }),
        fc.array(happening, { maxLength: 80 }),
        (start, happenings) => {
          const folder = aFolder()
          const shot: string[] = []
          const unfinished = new Set<string>()
          let isMissed = false
          for (const what of happenings) {
            if (what.kind === 'shoot') {
              for (let k = 0; k < what.burst; k += 1) {
                const key = `IMG_${String(((start + shot.length - 1) % 9999) + 1).padStart(4, '0')}`
                shot.push(key)
                for (const name of what.raw ? [`${key}.CR2`, `${key}.JPG`] : [`${key}.JPG`]) {
                  folder.put(name, what.slow ? 0 : 20)
                  if (what.slow) unfinished.add(name)
                }
              }
            } else if (what.kind === 'write') {
              for (const name of unfinished) folder.put(name, 20)
              unfinished.clear()
            } else if (what.kind === 'delete') {
              // One that was counted: what is thrown away before it is whole was never a frame.
              const counted = folder.counted[what.which]
              if (counted) folder.remove(counted.file)
            } else if (what.kind === 'restart') {
              folder.restart()
              isMissed = true
            } else if (what.kind === 'away') isMissed = true
            else {
              folder.read(what.ms, isMissed)
              isMissed = false
            }
          }
          for (const name of unfinished) folder.put(name, 20)
          folder.read()
          folder.read()
          const keys = folder.counted.map(({ file }) => file.slice(0, 8))
          expect([...keys].sort()).toEqual([...shot].sort())
          // Where nothing was being written for longer than the patience, the order too is that of the shots.
          const lookedMs = happenings.reduce((sum, what) => sum + (what.kind === 'look' ? what.ms : 0), 0)
          if (lookedMs < patienceMs) expect(keys).toEqual(shot)
        },
      ),
      { numRuns: 300 },
    )
  })
})
