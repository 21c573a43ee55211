import { expect, it } from 'vitest'
import { atTheBench, turnFrames } from './aSpin.ts'

// Tables with a few rows for the whole studio (v: rig revisions), and a list the call brings along; reading all of
// them costs nothing.
const small = [
  'bench',
  'opening',
  'closure',
  'pace',
  'studio',
  'rig',
  'v',
  'CONSTANT',
  'json_each',
  'handling',
  'finish_class',
  'preparation',
]

it('finds takes, picks, answers and deliveries by an index, never by reading a whole table', async () => {
  const bench = await atTheBench([{ name: 'Kettle' }, { name: 'Jug' }])
  const { api, jobId, studio, shootIds } = bench
  const asked = new Set<string>()
  const prepare = studio.db.prepare.bind(studio.db)
  studio.db.prepare = ((sql: string) => {
    asked.add(sql)
    return prepare(sql)
  }) as typeof studio.db.prepare
  const first = await bench.keep(0)
  await api.takes.fault({ takeId: first, kind: 'dust', frame: 2, note: null })
  const running = await bench.start(1)
  await bench.shoot(running, turnFrames)
  await api.takes.one({ takeId: running })
  await api.takes.running()
  await api.takes.ofJob({ jobId })
  await api.takes.plan({ shootId: Number(shootIds[0]) })
  await api.preparation.before({ shootId: Number(shootIds[0]), ...bench.stand })
  await api.preparation.rows({ takeId: running })
  await api.preparation.after({ takeId: first })
  await api.picks.newest({ shootIds: [...shootIds] })
  const { items } = await api.answers.ofJob({ jobId })
  const kettle = items.slice(0, 2)
  await api.answers.show({ jobId, items: kettle })
  await api.answers.answer({ verdict: 'yes', items: kettle })
  const { deliveryId } = await api.deliveries.prepare({ jobId, way: 'download link' })
  await api.deliveries.ofJob({ jobId })
  await api.deliveries.files({ deliveryId })
  await api.deliveries.send({ deliveryId })
  await api.deliveries.one({ deliveryId })
  expect(asked.size).toBeGreaterThan(50)
  const scans = [...asked].flatMap((sql) => {
    const plan = prepare(`EXPLAIN QUERY PLAN ${sql}`)
    const names = sql.match(/(?<=@)\w+/g)
    const binds = names
      ? [Object.fromEntries(names.map((name) => [name, 1]))]
      : sql.match(/\?/g)?.map(() => 1)
    const steps = plan.all(...(binds ?? [])) as { detail: string }[]
    return steps
      .map(({ detail }) => detail)
      .filter((detail) => {
        const table = /^SCAN (\w+)/.exec(detail)?.[1]
        // A partial index holds only the takes that run, one or two at a time.
        return table !== undefined && !small.includes(table) && !detail.includes('one_running_take_per_spin')
      })
      .map((detail) => `${detail}: ${sql}`)
  })
  expect(scans).toEqual([])
})
