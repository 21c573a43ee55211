import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vite'

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url))

// A sandboxed preload must be one CommonJS file, so it is built apart, after main (which empties the folder).
export default defineConfig({
  root: here('.'),
  publicDir: false,
  ssr: { noExternal: true, external: ['electron'] },
  build: {
    ssr: true,
    target: 'node20',
    outDir: here('../dist/main'),
    emptyOutDir: false,
    minify: false,
    rollupOptions: {
      input: { preload: here('doors/preload.ts') },
      output: { format: 'cjs', entryFileNames: '[name].cjs' },
    },
  },
})
