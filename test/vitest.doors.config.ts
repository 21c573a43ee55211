import { defineConfig } from 'vitest/config'

// The suites that drive a real window or a real browser: one file at a time, each with its own studio.
export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['test/desktop/**/*.test.ts', 'test/browser/**/*.test.ts'],
    fileParallelism: false,
    testTimeout: 120_000,
    hookTimeout: 60_000,
  },
})
