import { readArguments } from './arguments.ts'
import { runBrowserHost } from './browserHost.ts'
import { refusalSentence } from './refusalSentence.ts'

// The browser door by itself: `npm run host -- --studio <folder> --port <number>`.
try {
  await runBrowserHost(readArguments(process.argv.slice(2)), (line) => console.log(line))
} catch (error) {
  console.error(refusalSentence(error))
  process.exitCode = 1
}
