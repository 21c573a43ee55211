import { fileURLToPath } from 'node:url'
import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url))

// Nothing inlined and no polyfill script: the Content-Security-Policy lets in files of our own alone.
export default defineConfig({
  root: here('.'),
  base: '/',
  plugins: [react()],
  build: {
    target: 'chrome130',
    outDir: here('../dist/renderer'),
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 1500,
  },
})
