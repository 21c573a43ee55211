import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'
import { reporters } from './reporters.ts'

// The suites that drive a real window or a real browser, each file with its own studio. Windows run one at a time, since
// they share a display, and so do the files that say how soon something is there (`*.timed.test.ts`); the other browsers
// run two at a time (`--file-parallelism` in package.json).
export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    reporters,
    include: ['test/desktop/**/*.test.ts', 'test/browser/**/*.test.ts'],
    fileParallelism: false,
    maxWorkers: 2,
    testTimeout: 120_000,
    hookTimeout: 60_000,
  },
})
