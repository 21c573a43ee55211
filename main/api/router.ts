import { clientCalls } from './clients.ts'
import { router } from './kit.ts'
import { platterCalls } from './platters.ts'
import { rigCalls } from './rigs.ts'
import { settingsCalls } from './settings.ts'
import { startCalls } from './start.ts'

/** The contract: one line per subject. */
export const appRouter = router({
  start: startCalls,
  clients: clientCalls,
  platters: platterCalls,
  rigs: rigCalls,
  settings: settingsCalls,
})
