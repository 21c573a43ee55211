import path from 'node:path'
import { describe, expect, it } from 'vitest'
import type { Db } from '../../db/open.ts'
import { openStore } from '../../db/open.ts'
import { aClient } from '../builders.ts'
import { buildProgram, moments, runUntilKilled } from '../store/programs.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { anOrder, deliver } from './order.ts'

const kills = 25

/** The numbers of issued documents of a kind, and what the series says of them. */
function seriesOf(db: Db, kind: 'invoice' | 'credit note') {
  const numbers = db
    .prepare(`SELECT number FROM invoice WHERE kind = ? AND state = 'issued' ORDER BY number`)
    .pluck()
    .all(kind) as readonly string[]
  const taken = db
    .prepare('SELECT coalesce(sum(next - first), 0) FROM number_series WHERE kind = ?')
    .pluck()
    .get(kind)
  return { numbers, counts: numbers.map((number) => Number(number.slice(-4))), taken }
}

const upTo = (count: number) => Array.from({ length: count }, (_, index) => index + 1)

describe('numbers of invoices and credit notes', () => {
  it(`have no gap and no twin over ${kills} kills of two programs at once`, {
    timeout: 300_000,
  }, async () => {
    const studio = aStudio()
    await studio.api.clients.add(aClient())
    studio.house.leave()?.close()
    const program = await buildProgram(studio.folder, path.join(import.meta.dirname, 'issuer.ts'), 'issuer')
    const random = moments()
    const said: string[] = []
    for (let kill = 0; kill < kills; kill += 1) {
      const pair = [1 + random() * 60, 1 + random() * 60]
      const lines = await Promise.all(pair.map((ms) => runUntilKilled(program, studio.folder, ms)))
      said.push(...lines.flat())
      const db = openStore(path.join(studio.folder, 'studio.db'))
      const [invoices, credits] = [seriesOf(db, 'invoice'), seriesOf(db, 'credit note')]
      expect(invoices.counts).toEqual(upTo(invoices.numbers.length))
      expect(credits.counts).toEqual(upTo(credits.numbers.length))
      expect([invoices.taken, credits.taken]).toEqual([invoices.numbers.length, credits.numbers.length])
      const kept = new Set([...invoices.numbers, ...credits.numbers])
      expect(said.filter((number) => !kept.has(number))).toEqual([])
      expect(db.pragma('integrity_check', { simple: true })).toBe('ok')
      db.close()
    }
    expect(new Set(said).size).toBe(said.length)
    expect(said.length).toBeGreaterThan(kills * 2)
  })

  it('are two where two windows issue at once', async () => {
    const studio = aStudio()
    const { api } = studio
    const drafts = []
    for (let index = 0; index < 6; index += 1) drafts.push(await aDraft(studio, `Client ${index}`))
    const issued = await Promise.all(drafts.map((draft) => api.invoices.issue(draft)))
    expect(issued.map(({ number }) => Number(number.slice(-4))).sort()).toEqual(upTo(6))
    expect(issued.every(({ number }) => number.startsWith('I-2026-'))).toBe(true)
  })

  it('begin where the studio says, until the first is given', async () => {
    const studio = aStudio()
    const { api } = studio
    await api.studio.startNumbers({ kind: 'invoice', first: 481 })
    await api.studio.startNumbers({ kind: 'invoice', first: 418 })
    const next = async () => (await api.studio.numbers()).next.find(({ kind }) => kind === 'invoice')
    expect(await next()).toMatchObject({ number: 'I-2026-0418', isBegun: false })
    await expect(api.studio.startNumbers({ kind: 'invoice', first: 0 })).rejects.toMatchObject({
      cause: { code: 'bad-number' },
    })
    expect((await api.invoices.issue(await aDraft(studio, 'Brackwell'))).number).toBe('I-2026-0418')
    await expect(api.studio.startNumbers({ kind: 'invoice', first: 500 })).rejects.toMatchObject({
      cause: { code: 'series-begun' },
    })
    expect(await next()).toMatchObject({ number: 'I-2026-0419', isBegun: true })
    expect(() => studio.db.exec('UPDATE number_series SET first = 1, next = 1')).toThrow('goes up by one')
  })
})

async function aDraft(studio: TestStudio, name: string) {
  const spin = { kind: 'spins', quantityMilli: 1000, priceMinor: 5200, netMinor: 5200, spins: 1 } as const
  const { jobId, shootIds } = await anOrder(studio, [spin], { name })
  deliver(studio, jobId, shootIds)
  return studio.api.invoices.draft({ jobId })
}
