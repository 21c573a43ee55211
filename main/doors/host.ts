import './fileThreads.ts'
import { nodeIsTooOld } from './nodeVersion.ts'

// The browser door by itself: `npm run host -- --studio <folder> --port <number>`. Everything else is loaded
// after the check: it would crash an old Node.
const tooOld = nodeIsTooOld(process.versions.node)
if (tooOld) {
  console.error(tooOld)
  process.exitCode = 1
} else {
  const { host } = await import('./browserHost.ts')
  process.exitCode = await host(process.argv.slice(2))
}
