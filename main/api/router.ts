import { clientCalls } from './clients.ts'
import { router } from './kit.ts'
import { startCalls } from './start.ts'

/** The contract: one line per subject. */
export const appRouter = router({
  start: startCalls,
  clients: clientCalls,
})
