import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'
import { reporters } from './reporters.ts'

// Threads that tests start read the sources as they stand: what Node has stripped once it need not strip again.
process.env.NODE_COMPILE_CACHE ??= path.resolve(import.meta.dirname, '../node_modules/.cache/sources')

// The plain suite: no browser, no display, no download. Door tests have their own configuration.
export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    reporters,
    include: ['test/**/*.test.ts', 'test/**/*.test.tsx'],
    exclude: ['test/desktop/**', 'test/browser/**'],
    setupFiles: ['test/seeds.ts'],
    // The files of a worker share their modules: loading those anew for each took two fifths of the time.
    isolate: false,
    // Of two cores the runner takes one by default, and leaves the other idle.
    maxWorkers: 2,
    testTimeout: 20_000,
  },
})
