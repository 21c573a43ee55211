import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { performance } from 'node:perf_hooks'
import { openStore } from '../../db/open.ts'
import { measureBackTest } from './backTest.ts'
import { readCases } from './cases.ts'
import { measureCheck } from './check.ts'
import { coldStart } from './coldStart.ts'
import { fullSize, generateStudio } from './generate.ts'
import { measurePapers } from './papers.ts'
import { measurePlans } from './plan.ts'
import { measurePlanner } from './planner.ts'
import { measurePresses, pressBudgetMs } from './presses.ts'
import { measurePricing } from './pricing.ts'
import { measureReads } from './reads.ts'
import { checkText, isOverBudget, report } from './report.ts'
import { measureUbl } from './ubl.ts'
import { measureWrites, writeCases } from './writes.ts'

// `npm run bench`: writes a large studio into a temporary folder, measures it, prints the table and keeps it.

const resultsFile = path.join(import.meta.dirname, '../../test/bench/results.md')
const place = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-bench-'))
try {
  // `npm run bench -- check` measures the check of a take alone, and keeps that paragraph.
  if (process.argv[2] === 'check') await runCheckAlone()
  else await run()
} finally {
  fs.rmSync(place, { recursive: true, force: true })
}

async function runCheckAlone(): Promise<void> {
  const text = checkText(await measureCheck(place))
  console.log(text)
  const before = fs.readFileSync(resultsFile, 'utf8')
  const paragraph = /Checking a take of [\s\S]*?at most\.\n/u
  const after = paragraph.test(before)
    ? before.replace(paragraph, `${text}\n`)
    : `${before.trimEnd()}\n\n${text}\n`
  fs.writeFileSync(resultsFile, after)
}

async function run(): Promise<void> {
  const studio = path.join(place, 'studio')
  const start = performance.now()
  console.log('Writing the studio …')
  const written = await generateStudio(studio, fullSize)
  const writtenInSeconds = (performance.now() - start) / 1000
  const store = path.join(studio, 'studio.db')
  const storeMegabytes = fs.statSync(store).size / 2 ** 20
  const counts = countsOf(store)
  console.log(`Written in ${writtenInSeconds.toFixed(1)} s, ${storeMegabytes.toFixed(0)} MB. Measuring …`)
  const copies = {
    recorded: copyOf(studio, 'recorded'),
    api: copyOf(studio, 'api'),
    web: copyOf(studio, 'web'),
    bare: copyOf(studio, 'bare'),
  }
  const reads = await measureReads(studio, readCases(written))
  const writes = await measureWrites(copies, writeCases(written))
  const press = await measurePresses(copyOf(studio, 'presses'), written.runningTakeId)
  const text = report({
    results: [...reads, ...writes],
    counts,
    writtenInSeconds,
    storeMegabytes,
    coldStart: await coldStart(studio),
    backTest: await measureBackTest(studio),
    pricing: await measurePricing(),
    planner: await measurePlanner(studio),
    plans: await measurePlans(),
    ubl: await measureUbl(),
    papers: await measurePapers(),
    check: await measureCheck(place),
    press,
  })
  console.log(text)
  fs.writeFileSync(resultsFile, text)
  const over = [...reads, ...writes].filter(isOverBudget)
  if (press.p95Ms > pressBudgetMs) {
    console.error(`A frame over HTTP takes ${press.p95Ms.toFixed(1)} ms at the 95th percentile.`)
    process.exitCode = 1
  }
  if (over.length > 0) {
    console.error(`Over budget: ${over.map(({ name }) => name).join(', ')}.`)
    process.exitCode = 1
  }
}

function copyOf(studio: string, name: string): string {
  const folder = path.join(place, name)
  fs.mkdirSync(folder)
  fs.copyFileSync(path.join(studio, 'studio.db'), path.join(folder, 'studio.db'))
  return folder
}

function countsOf(store: string): readonly (readonly [string, number])[] {
  const db = openStore(store, { readonly: true })
  const count = (table: string) => Number(db.prepare(`SELECT count(*) FROM ${table}`).pluck().get())
  const counts = [
    ['jobs', count('job')],
    ['spins', count('shoot')],
    ['takes', count('take')],
    ['products', count('product')],
    ['events', count('event')],
  ] as const
  db.close()
  return counts
}
