import { briefCalls } from './briefs.ts'
import { clientCalls } from './clients.ts'
import { familyCalls } from './families.ts'
import { invoiceCalls } from './invoices.ts'
import { jobCalls } from './jobs.ts'
import { router } from './kit.ts'
import { paceCalls } from './pace.ts'
import { priceCalls } from './prices.ts'
import { platterCalls } from './platters.ts'
import { productCalls } from './products.ts'
import { rigCalls } from './rigs.ts'
import { sampleCalls } from './samples.ts'
import { settingsCalls } from './settings.ts'
import { spinCalls } from './spins.ts'
import { startCalls } from './start.ts'
import { taxRateCalls } from './taxRates.ts'
import { studioCalls } from './studio.ts'
import { takeCalls } from './takes.ts'

/** The contract: one line per subject. */
export const appRouter = router({
  start: startCalls,
  studio: studioCalls,
  clients: clientCalls,
  jobs: jobCalls,
  spins: spinCalls,
  samples: sampleCalls,
  invoices: invoiceCalls,
  briefs: briefCalls,
  products: productCalls,
  families: familyCalls,
  platters: platterCalls,
  rigs: rigCalls,
  settings: settingsCalls,
  takes: takeCalls,
  pace: paceCalls,
  prices: priceCalls,
  taxRates: taxRateCalls,
})
