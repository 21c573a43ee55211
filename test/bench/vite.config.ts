import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vite'

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url))

// The bench is built as the program itself is, so that what is measured is what runs.
export default defineConfig({
  root: here('.'),
  publicDir: false,
  logLevel: 'warn',
  ssr: { noExternal: true, external: ['better-sqlite3', 'pdfkit', 'sharp'] },
  build: {
    ssr: true,
    target: 'node20',
    outDir: here('../../dist/bench'),
    emptyOutDir: true,
    minify: false,
    rollupOptions: {
      input: { run: here('run.ts'), checkWorker: here('../../main/work/checkWorker.ts') },
      output: { format: 'es', entryFileNames: '[name].js' },
    },
  },
})
