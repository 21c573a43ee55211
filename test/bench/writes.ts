import path from 'node:path'
import { openStore } from '../../db/open.ts'
import type { Written } from './generate.ts'
import { type Call, openMeasured } from './house.ts'
import { timed, timesOf } from './measure.ts'
import { Bare, type Recorded, recordStatements } from './record.ts'
import type { Result } from './report.ts'

/** Something that changes the studio, n times; every time is made in its own transaction. */
export interface WriteCase {
  readonly name: string
  readonly times: number
  readonly budgetMs: number
  readonly call: (time: number) => Call
}

const presses = 200
const importedRows = 5000

export function writeCases({ runningTakeId, clientIds }: Written): readonly WriteCase[] {
  return [
    {
      name: 'A take’s frame press',
      times: presses,
      budgetMs: 10,
      call: (time) => ({
        path: 'takes.act',
        input: {
          takeId: runningTakeId,
          holder: { key: 'bench-tablet', place: 'the tablet' },
          acts: [{ key: `press-${time}`, agoMs: 5, act: { kind: 'frame' } }],
        },
      }),
    },
    {
      name: `Import of ${importedRows} products`,
      times: 4,
      // 5,000 rows under 2 s.
      budgetMs: 2000,
      call: (time) => ({
        path: 'productImport.take',
        input: {
          clientId: clientIds[time] ?? 0,
          text: productList(importedRows),
          fileName: 'list.csv',
          columns: {
            code: { index: 0, unit: null },
            name: { index: 1, unit: null },
            width: { index: 2, unit: null },
            depth: { index: 3, unit: null },
            height: { index: 4, unit: null },
            mass: { index: 5, unit: null },
          },
          sizeUnit: 'mm',
          massUnit: 'g',
          decimalMark: '.',
        },
      }),
    },
  ]
}

function productList(rows: number): string {
  const lines = Array.from(
    { length: rows },
    (_, row) =>
      `N-${String(row).padStart(5, '0')},Imported product ${row},${80 + (row % 300)},${60 + (row % 200)},${90 + (row % 400)},${200 + row}`,
  )
  return ['code,name,width,depth,height,mass', ...lines].join('\n')
}

/** Copies of one studio: the same changes on each come out the same, so recorded values fit the bare run. */
export interface Copies {
  readonly recorded: string
  readonly api: string
  readonly web: string
  readonly bare: string
}

/** Measures changes: through the API, through the web application and bare, each on its own copy of the studio. */
export async function measureWrites(copies: Copies, cases: readonly WriteCase[]): Promise<readonly Result[]> {
  const recorded = await record(copies.recorded, cases)
  const api = await through(copies.api, cases, 'call')
  const web = await through(copies.web, cases, 'fetch')
  const bare = runBare(copies.bare, recorded)
  return cases.map(({ name, budgetMs }, index) => ({
    name,
    budgetMs,
    rows: bare[index]?.rows ?? 0,
    api: timesOf(api[index] ?? []),
    web: timesOf(web[index] ?? []),
    bare: timesOf(bare[index]?.ms ?? []),
  }))
}

const betweenMs = 6000

async function record(folder: string, cases: readonly WriteCase[]): Promise<(readonly Recorded[])[][]> {
  let take: () => readonly Recorded[] = () => []
  const house = await openMeasured(folder, (db) => {
    take = recordStatements(db)
  })
  const all: (readonly Recorded[])[][] = []
  for (const { times, call } of cases) {
    const ofCase: (readonly Recorded[])[] = []
    for (let time = 0; time < times; time += 1) {
      house.pass(betweenMs)
      take()
      await house.call(call(time))
      ofCase.push(take())
    }
    all.push(ofCase)
  }
  house.close()
  return all
}

async function through(
  folder: string,
  cases: readonly WriteCase[],
  way: 'call' | 'fetch',
): Promise<readonly (readonly number[])[]> {
  const house = await openMeasured(folder)
  const all: number[][] = []
  for (const { times, call } of cases) {
    const ofCase: number[] = []
    for (let time = 0; time < times; time += 1) {
      house.pass(betweenMs)
      const asked = call(time)
      ofCase.push(await timed(() => house[way](asked)))
    }
    all.push(ofCase)
  }
  house.close()
  return all
}

function runBare(
  folder: string,
  recorded: readonly (readonly (readonly Recorded[])[])[],
): readonly { readonly ms: readonly number[]; readonly rows: number }[] {
  const db = openStore(path.join(folder, 'studio.db'))
  const bare = new Bare(db)
  const all = recorded.map((ofCase) => {
    let rows = 0
    const ms = ofCase.map((statements) => {
      bare.prepare(statements)
      const start = performance.now()
      rows = bare.runAsOne(statements)
      return performance.now() - start
    })
    return { ms, rows }
  })
  db.close()
  return all
}
