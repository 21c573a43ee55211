import fc from 'fast-check'
import { expect, it } from 'vitest'
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
function card(folder: string, startMs: number, shots: readonly Shot[]): CardFrame[] {
  const frames: CardFrame[] = []
  let atMs = startMs
  const shoot = (ticket: string | null) => {
    const file = `IMG_${String(frames.length + 1).padStart(4, '0')}.JPG`
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
  expect(takesFound([shot], spins, studioKey, decided).at(-1)).toMatchObject({
    spin: { shootId: 4, by: 'person' },
    standing: 'short',
    candidates: [],
  })
})

it('a take that a full card broke off goes on with the first frames of the next', () => {
  const first = card('/cards/a', 0, [{ ticket: ticketOf(1) }, { frames: 150 }])
  const second = card('/cards/b', 3_600_000, [{ frames: 92 }, { ticket: ticketOf(2) }, { frames: 242 }])
  const takes = takesFound([second, first], [spin(1, 240), spin(2, 240)], studioKey)
  expect(takes.map(({ folder, standing }) => [folder, standing])).toEqual([
    ['/cards/a', 'short'],
    ['/cards/b', 'not named'],
    ['/cards/b', 'whole'],
  ])
  expect(takes[1]?.candidates[0]).toMatchObject({ shootId: 1, goesOn: takes[0]?.key, fits: true })
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
    }),
    { numRuns: 200 },
  )
})
