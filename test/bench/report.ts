import os from 'node:os'
import type { PlanCost } from '../../main/trade/plan/problem.ts'
import type { BackTestTimes } from './backTest.ts'
import type { CheckTimes } from './check.ts'
import type { Times } from './measure.ts'
import type { PaperTimes } from './papers.ts'
import type { PlanTimes } from './plan.ts'
import type { PlannerTimes } from './planner.ts'
import { pressBudgetMs } from './presses.ts'
import type { PricingTimes } from './pricing.ts'
import type { UblTimes } from './ubl.ts'

/** One row of the table: a screen's data, or an act. Times in ms. */
export interface Result {
  readonly name: string
  readonly rows: number
  readonly api: Times
  readonly web: Times
  /** The same statements with the same values, bare. */
  readonly bare: Times
  /** What the API's median may be; null where only the ratio is of interest. */
  readonly budgetMs: number | null
}

export interface Whole {
  readonly results: readonly Result[]
  readonly counts: readonly (readonly [what: string, count: number])[]
  readonly writtenInSeconds: number
  readonly storeMegabytes: number
  readonly coldStart: { readonly boardMs: number; readonly residentMegabytes: number | null }
  readonly backTest: BackTestTimes
  readonly pricing: PricingTimes
  readonly planner: PlannerTimes
  readonly plans: readonly PlanTimes[]
  readonly ubl: UblTimes
  readonly papers: PaperTimes
  readonly check: CheckTimes
  /** A frame over HTTP, from the press to its answer. */
  readonly press: Times
}

const ms = (value: number) => (value < 10 ? value.toFixed(2) : value.toFixed(1))
const whole = new Intl.NumberFormat('en-GB')

export function isOverBudget({ budgetMs, api }: Result): boolean {
  return budgetMs !== null && api.medianMs > budgetMs
}

/** The results as Markdown: what was measured, on what machine, and the table. */
export function report({
  results,
  counts,
  writtenInSeconds,
  storeMegabytes,
  coldStart,
  backTest,
  pricing,
  planner,
  plans,
  ubl,
  papers,
  check,
  press,
}: Whole): string {
  const table = [
    [
      'Data of',
      'rows',
      'bare median',
      'bare 95 %',
      'API median',
      'API 95 %',
      'web median',
      'web 95 %',
      'API ÷ bare',
      '',
    ],
    ['---', '--:', '--:', '--:', '--:', '--:', '--:', '--:', '--:', '---'],
    ...results.map((result) => [
      result.name,
      whole.format(result.rows),
      ms(result.bare.medianMs),
      ms(result.bare.p95Ms),
      ms(result.api.medianMs),
      ms(result.api.p95Ms),
      ms(result.web.medianMs),
      ms(result.web.p95Ms),
      (result.api.medianMs / result.bare.medianMs).toFixed(1),
      isOverBudget(result) ? `over ${result.budgetMs} ms` : '',
    ]),
  ]
  return `# Measured

\`npm run bench\` writes a studio of ${counts.map(([what, count]) => `${whole.format(count)} ${what}`).join(', ')} by SQL
(${writtenInSeconds.toFixed(0)} s, ${storeMegabytes.toFixed(0)} MB) and measures it. Times are in ms. *Bare* runs the very statements that
the API ran, with the same values, straight through better-sqlite3 in the same run; *API* calls the procedure in
process; *web* sends the request through the web application with its guard and JSON both ways. Budget: 10 ms at the
API's median for a screen's data.

Machine: ${machine()}. Load average over the run: ${os.loadavg()[1]?.toFixed(1)}; much over 1 means that other work took its share of the cores.

${table.map((cells) => `| ${cells.join(' | ')} |`).join('\n')}

Cold start, from starting the program to the board's first answer through the browser door: ${coldStart.boardMs.toFixed(0)} ms.
Memory of that process afterwards: ${coldStart.residentMegabytes === null ? 'not known on this system' : `${coldStart.residentMegabytes.toFixed(0)} MB resident`}.

A frame at the bench over HTTP, durable before it is answered: ${ms(press.medianMs)} ms, 95 % under ${ms(press.p95Ms)} ms (budget ${pressBudgetMs} ms).

Back-test over ${whole.format(backTest.takes)} takes: ${whole.format(Math.round(backTest.wholeMs))} ms, in lots of which 95 % keep others waiting under ${ms(backTest.lotP95Ms)} ms.
Learning anew from the newest takes, after one has changed: ${ms(backTest.learningMs)} ms.

Pricing a job of ${pricing.products} products in two rows: ${ms(pricing.listedMs)} ms by a price list, ${ms(pricing.workedOutMs)} ms where every price is
worked out from the time; what must give for less than half of the floor: ${ms(pricing.whatGivesMs)} ms.

The whole planner, from rim to price, at each key: ${ms(planner.key.medianMs)} ms, 95 % under ${ms(planner.key.p95Ms)} ms for ${planner.spins} spins in
two rows; its start from a store of this size: ${ms(planner.startMs)} ms.

${plans.map(planText).join('\n')}

${whole.format(ubl.invoices)} invoices of ${ubl.lines} lines as electronic ones (UBL): ${ms(ubl.totalMs)} ms, ${ubl.megabytes.toFixed(1)} MB.

${whole.format(papers.papers)} invoices of ${papers.lines} lines as PDFs: ${ms(papers.totalMs)} ms, ${papers.megabytes.toFixed(1)} MB; the program held ${papers.peakMegabytes.toFixed(0)} MB at most.

${checkText(check)}
`
}

/** What the check of a take's pictures takes, as one paragraph. */
export function checkText(check: CheckTimes): string {
  const { frames, megapixels, megabytesOfFile, framesPerSecond, bareFramesPerSecond, oneFramesPerSecond } =
    check
  const part = framesPerSecond / bareFramesPerSecond
  return `Checking a take of ${frames} JPEGs of ${megapixels} megapixels (${megabytesOfFile.toFixed(1)} MB each): ${framesPerSecond.toFixed(1)} frames a second, ${part.toFixed(2)} of sharp alone
on the same files at the same scale (${bareFramesPerSecond.toFixed(1)}); one picture at a time ${oneFramesPerSecond.toFixed(1)}. The first frame after ${check.firstFrameMs.toFixed(0)} ms, the first report after ${check.firstReportMs.toFixed(0)} ms,
the report on all of them once they are read in ${check.wholeReportMs.toFixed(0)} ms;
the program held ${check.peakMegabytes.toFixed(0)} MB at most.`
}

function planText(times: PlanTimes): string {
  const { spins, benches, searchMs, isProved, plan, byDueDay, byNearestRig, bestKnown, curve } = times
  const said = ({ weightedLatenessMin, changeoverMin }: PlanCost) =>
    `${whole.format(weightedLatenessMin)} min late by weight, ${whole.format(changeoverMin)} min of set changes`
  const above = percent(plan.weightedLatenessMin / bestKnown.weightedLatenessMin - 1)
  const searched = isProved
    ? ''
    : `
Best of three searches eight times as long: ${said(bestKnown)}; the plan is ${above} later. In ${curve
        .map(
          ({ ms: took, plan: at }) => `${(took / 1000).toFixed(1)} s ${whole.format(at.weightedLatenessMin)}`,
        )
        .join(', ')} min late by weight.`
  return `A plan of ${spins} spins on ${benches} bench${benches > 1 ? 'es' : ''}: ${whole.format(Math.round(searchMs))} ms, ${isProved ? 'proved best' : 'searched'}: ${said(plan)}.
By due day alone ${said(byDueDay)}; always the nearest rig ${said(byNearestRig)}.${searched}
`
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`
}

function machine(): string {
  const cpus = os.cpus()
  const gigabytes = (os.totalmem() / 2 ** 30).toFixed(0)
  const system = `${os.platform()} ${os.arch()}`
  return `${cpus.length} cores (${cpus[0]?.model.trim() ?? 'unknown'}), ${gigabytes} GB, ${system}, Node ${process.versions.node}`
}
