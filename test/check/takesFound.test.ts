import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { ExpectedSpin } from '../../main/trade/check/files/expectedSpin.ts'
import { type CardFrame, takesFound } from '../../main/trade/check/files/takesFound.ts'
import { frameName } from '../../main/trade/frameFiles.ts'
import { ticketText } from '../../main/trade/ticketCode.ts'

const studioKey = '1A2F'
const ticketOf = (shootId: number, key = studioKey) => ticketText({ studioKey: key, shootId, product: null })

const spin = (
  shootId: number,
  frames: number,
  place: number | null = shootId - 1,
  rows = 1,
): ExpectedSpin => ({
  shootId,
  label: `KN-0${shootId} Kettle`,
  rows: Array.from({ length: rows }, () => ({ turnFrames: frames, toShoot: frames + 4 })),
  place,
})

type Shot = { readonly ticket: string } | { readonly frames: number } | { readonly pauseMs: number }

/** A card as it was shot: tickets, frames 6 s apart, pauses. */
function card(folder: string, startMs: number, shots: readonly Shot[], firstNumber = 1): CardFrame[] {
  const frames: CardFrame[] = []
  let atMs = startMs
  const shoot = (ticket: string | null) => {
    const number = ((firstNumber + frames.length - 1) % 9999) + 1
    const file = `IMG_${String(number).padStart(4, '0')}.JPG`
    const name = frameName(file)
    if (!name) throw new Error(`${file} is no frame.`)
    frames.push({ ...name, file, files: 1, atMs, clock: 'camera', folder, ticket })
    atMs += 6000
  }
  for (const shot of shots) {
    if ('pauseMs' in shot) atMs += shot.pauseMs
    else if ('ticket' in shot) shoot(shot.ticket)
    else for (let k = 0; k < shot.frames; k += 1) shoot(null)
  }
  return frames
}

const minutes = (count: number) => ({ pauseMs: count * 60_000 })
const said = (cards: readonly CardFrame[][], spins: readonly ExpectedSpin[]) =>
  takesFound(cards, spins, studioKey).map(({ spin, standing, frames }) => [
    spin?.shootId ?? null,
    standing,
    frames.length,
  ])

it('a card sorts itself by its tickets: whole, short at 112 of 240, started over, too long', () => {
  const shot = card('/cards/a', 0, [
    { ticket: ticketOf(1) },
    { frames: 244 },
    minutes(9),
    { ticket: ticketOf(2) },
    { ticket: ticketOf(2) },
    { frames: 60 },
    { ticket: ticketOf(2) },
    { frames: 241 },
    minutes(9),
    { ticket: ticketOf(3) },
    { frames: 270 },
    minutes(9),
    { ticket: ticketOf(4) },
    { frames: 112 },
  ])
  const spins = [1, 2, 3, 4].map((id) => spin(id, 240))
  expect(said([shot], spins)).toEqual([
    [1, 'whole', 244],
    [2, 'started over', 60],
    [2, 'whole', 241],
    [3, 'too long', 270],
    [4, 'short', 112],
  ])
  const last = takesFound([shot], spins, studioKey).at(-1)
  expect(last?.sentence).toMatch(/KN-04 Kettle: short at 112 of 240\sframes\./u)
  expect(last).toMatchObject({ medianStepMs: 6000, ticketFiles: ['IMG_0821.JPG'] })
})

it('a pause inside a take leaves it one take, and says where it was', () => {
  const shot = card('/cards/a', 0, [{ ticket: ticketOf(1) }, { frames: 100 }, minutes(12), { frames: 142 }])
  const [take, ...more] = takesFound([shot], [spin(1, 240)], studioKey)
  expect(more).toEqual([])
  expect(take).toMatchObject({ standing: 'whole', gapsAfter: [100] })
})

it('a take broken off and begun anew without its ticket is two attempts, the first started over', () => {
  const shot = card('/cards/a', 0, [{ ticket: ticketOf(1) }, { frames: 100 }, minutes(2), { frames: 242 }])
  expect(said([shot], [spin(1, 240)])).toEqual([
    [1, 'started over', 100],
    [1, 'whole', 242],
  ])
})

it('the rows of a spin are takes of their own after one ticket, or after its ticket shown again', () => {
  const once = [{ ticket: ticketOf(1) }, { frames: 122 }, minutes(4), { frames: 120 }]
  const twice = [{ ticket: ticketOf(1) }, { frames: 122 }, { ticket: ticketOf(1) }, { frames: 120 }]
  for (const shots of [once, twice]) {
    const takes = takesFound([card('/cards/a', 0, shots)], [spin(1, 120, 0, 2)], studioKey)
    expect(takes.map(({ spin, standing }) => [spin?.row, standing])).toEqual([
      [0, 'whole'],
      [1, 'whole'],
    ])
  }
})

it('what no ticket names is offered by order and count, and is nobody’s until the person decides', () => {
  const spins = [spin(1, 240), spin(2, 72), spin(3, 240), spin(4, 240)]
  const shot = card('/cards/a', 0, [
    { ticket: ticketOf(1) },
    { frames: 242 },
    minutes(10),
    { frames: 72 },
    minutes(10),
    { frames: 244 },
    minutes(10),
    { frames: 112 },
  ])
  const takes = takesFound([shot], spins, studioKey)
  expect(
    takes.map(({ standing, candidates }) => [standing, candidates.map(({ shootId }) => shootId)]),
  ).toEqual([
    ['whole', []],
    ['not named', [2, 3, 4]],
    ['not named', [3, 4]],
    ['not named', [4]],
  ])
  const decided = new Map([[takes[3]?.key ?? '', 4]])
  expect(takesFound([shot], spins, studioKey, { decided }).at(-1)).toMatchObject({
    spin: { shootId: 4, by: 'person' },
    standing: 'short',
    candidates: [],
  })
})

describe('a take over two folders', () => {
  const first = card('/cards/a', 0, [{ ticket: ticketOf(1) }, { frames: 150 }])
  const second = card('/cards/b', 3_600_000, [{ frames: 92 }, { ticket: ticketOf(2) }, { frames: 242 }])
  const spins = [spin(1, 240), spin(2, 240)]
  const stand = (takes: ReturnType<typeof takesFound>) =>
    takes.map(({ folders, standing, frames, spin }) => [
      folders.join(' '),
      standing,
      frames.length,
      spin?.shootId,
    ])

  it('is offered where a full card broke it off, and is two until the person joins them', () => {
    const takes = takesFound([second, first], spins, studioKey)
    expect(stand(takes)).toEqual([
      ['/cards/a', 'short', 150, 1],
      ['/cards/b', 'not named', 92, undefined],
      ['/cards/b', 'whole', 242, 2],
    ])
    const [earlier, later] = takes
    expect(later?.goesOn?.key).toBe(earlier?.key)
    expect(later?.goesOn?.why).toMatch(/ends after 150\sframes: together they are whole/)
    const joins = new Map([[later?.key ?? '', earlier?.key ?? '']])
    const joined = takesFound([second, first], spins, studioKey, { joins })
    expect(stand(joined)).toEqual([
      ['/cards/a /cards/b', 'whole', 242, 1],
      ['/cards/b', 'whole', 242, 2],
    ])
    // The same names stand in both folders.
    const places = joined[0]?.frames.map(({ folder, file }) => `${folder}/${file}`)
    expect(new Set(places).size).toBe(242)
    expect(new Set(joined[0]?.frames.map(({ file }) => file)).size).toBe(151)
    expect(joined[0]).toMatchObject({ joined: [later?.key], key: earlier?.key })
  })

  it('is two again once the person keeps the parts apart, by the day’s order, and can be joined after all', () => {
    const [, later] = takesFound([second, first], spins, studioKey)
    const apart = takesFound([second, first], spins, studioKey, {
      joins: new Map([[later?.key ?? '', null]]),
    })
    expect(apart[1]).toMatchObject({ goesOn: { isKeptApart: true }, standing: 'not named' })
    expect(apart[1]?.candidates[0]).toMatchObject({ shootId: 1 })
  })

  it('is told without a ticket by numbers that go on over 9999, in the camera’s next folder', () => {
    const wrapped = [
      card('/card/100CANON', 0, [{ frames: 70 }], 9930),
      // The photographer went to lunch in between.
      card('/card/101CANON', 70 * 6000 + 3_600_000, [{ frames: 173 }], 1),
    ]
    const takes = takesFound(wrapped, spins, studioKey)
    expect(takes[1]?.goesOn?.why).toMatch(/numbers go on/)
    const joins = new Map([[takes[1]?.key ?? '', takes[0]?.key ?? '']])
    const [whole, ...more] = takesFound(wrapped, spins, studioKey, { joins })
    expect(more).toEqual([])
    expect(whole).toMatchObject({ standing: 'not named', folders: ['/card/100CANON', '/card/101CANON'] })
    expect(whole?.frames.slice(69, 71).map(({ file }) => file)).toEqual(['IMG_9999.JPG', 'IMG_0001.JPG'])
    expect(whole?.candidates[0]).toMatchObject({ shootId: 1, fits: true })
  })

  it('goes on over a third folder', () => {
    const cards = [
      card('/cards/a', 0, [{ ticket: ticketOf(1) }, { frames: 100 }]),
      card('/cards/b', 101 * 6000, [{ frames: 100 }], 300),
      card('/cards/c', 202 * 6000, [{ frames: 42 }], 400),
    ]
    const [a, b, c] = takesFound(cards, spins, studioKey).map(({ key }) => key)
    const joins = new Map([
      [b ?? '', a ?? ''],
      [c ?? '', b ?? ''],
    ])
    expect(stand(takesFound(cards, spins, studioKey, { joins }))).toEqual([
      ['/cards/a /cards/b /cards/c', 'whole', 242, 1],
    ])
  })

  it.each([
    [
      'the counts are not right together',
      [{ ticket: ticketOf(1) }, { frames: 150 }],
      [{ frames: 40 }],
      900_000,
    ],
    [
      'a ticket was shown',
      [{ ticket: ticketOf(1) }, { frames: 150 }],
      [{ ticket: ticketOf(2) }, { frames: 92 }],
      900_000,
    ],
    ['it was shot before', [{ ticket: ticketOf(1) }, { frames: 150 }], [{ frames: 92 }], -3_600_000],
    ['neither is named, and hours lie between', [{ frames: 150 }], [{ frames: 92 }], 20_000_000],
    ['one of them is whole by itself', [{ frames: 241 }], [{ frames: 3 }], 1_500_000],
  ] as const)('is not offered where %s', (_, shots, later, startMs) => {
    const takes = takesFound(
      [card('/cards/a', 0, shots), card('/cards/b', startMs, later, 500)],
      spins,
      studioKey,
    )
    expect(takes.every(({ goesOn }) => goesOn === null)).toBe(true)
  })
})

it('a ticket of another studio, of an unknown spin, or that nothing follows names no take, and says so', () => {
  const shot = card('/cards/a', 0, [
    { ticket: ticketOf(1, 'FFFF') },
    { frames: 30 },
    { ticket: ticketOf(99) },
    { frames: 20 },
    { ticket: ticketOf(1) },
    { ticket: ticketOf(2) },
    { frames: 241 },
  ])
  const takes = takesFound([shot], [spin(1, 240), spin(2, 240)], studioKey)
  expect(takes.map(({ standing }) => standing)).toEqual(['not named', 'not named', 'nothing shot', 'whole'])
  expect(takes[0]?.sentence).toContain('another studio')
  expect(takes[1]?.sentence).toContain('does not hold')
  expect(takes[2]?.sentence).toContain('nothing shot after it')
})

it('loses no frame and keeps their order, whatever lies on the cards, and finds the same again', () => {
  const shots = fc.array(
    fc.oneof(
      fc.record({
        ticket: fc.constantFrom(ticketOf(1), ticketOf(2), ticketOf(9), 'a code of somebody else'),
      }),
      fc.record({ frames: fc.integer({ min: 0, max: 60 }) }),
      fc.record({ pauseMs: fc.integer({ min: 0, max: 2_000_000 }) }),
    ),
    { maxLength: 14 },
  )
  fc.assert(
    fc.property(fc.array(shots, { maxLength: 5 }), fc.integer({ min: 2, max: 60 }), (all, turn) => {
      const cards = all.map((ofCard, index) => card(`/cards/${index}`, index * 1e9, ofCard))
      const spins = [spin(1, turn), spin(2, turn + 7)]
      const takes = takesFound(cards, spins, studioKey)
      const found = takes.flatMap(({ frames }) => frames)
      expect(found).toEqual(cards.flat().filter(({ ticket }) => ticket === null))
      expect(new Set(takes.map(({ key }) => key)).size).toBe(takes.length)
      expect(takesFound(cards, spins, studioKey)).toEqual(takes)
      const joins = new Map(takes.flatMap(({ key, goesOn }) => (goesOn ? [[key, goesOn.key] as const] : [])))
      const together = takesFound(cards, spins, studioKey, { joins })
      const inFolders = (of: typeof takes) =>
        of.flatMap(({ frames }) => frames.map(({ folder, file }) => `${folder}/${file}`)).sort()
      expect(inFolders(together)).toEqual(inFolders(takes))
      expect(together).toHaveLength(takes.length - joins.size)
    }),
    { numRuns: 200 },
  )
})
