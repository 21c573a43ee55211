import './fileThreads.ts'
import { nodeIsTooOld } from './nodeVersion.ts'

// `npm start` and `npm run demo`. Everything else is loaded after the check: it would crash an old Node.
const tooOld = nodeIsTooOld(process.versions.node)
if (tooOld) {
  console.error(tooOld)
  process.exitCode = 1
} else {
  const { launch } = await import('./launcher.ts')
  process.exitCode = await launch(process.argv.slice(2))
}
