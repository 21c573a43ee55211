import { defineConfig } from 'vitest/config'

// The plain suite: no browser, no display, no download. Door tests have their own configuration.
export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    reporters: process.env.TEST_RESULTS
      ? ['default', ['json', { outputFile: process.env.TEST_RESULTS }]]
      : ['default'],
    include: ['test/**/*.test.ts', 'test/**/*.test.tsx'],
    exclude: ['test/desktop/**', 'test/browser/**'],
    testTimeout: 20_000,
  },
})
