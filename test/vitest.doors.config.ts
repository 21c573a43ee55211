import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'
import { reporters } from './reporters.ts'

// The suites that drive a real window or a real browser: one file at a time, each with its own studio.
export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    reporters,
    include: ['test/desktop/**/*.test.ts', 'test/browser/**/*.test.ts'],
    fileParallelism: false,
    testTimeout: 120_000,
    hookTimeout: 60_000,
  },
})
