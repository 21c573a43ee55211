import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vite'

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url))

// The programs outside the page: the desktop window, the studio process, the browser door, the launcher.
// Electron brings itself, better-sqlite3 and sharp are native and pdfkit reads its own data files: they stay outside.
export default defineConfig({
  root: here('.'),
  publicDir: false,
  ssr: { noExternal: true, external: ['electron', 'better-sqlite3', 'pdfkit', 'sharp'] },
  build: {
    ssr: true,
    target: 'node20',
    outDir: here('../dist/main'),
    emptyOutDir: true,
    sourcemap: true,
    minify: false,
    rollupOptions: {
      input: {
        desktop: here('doors/desktop.ts'),
        studioProcess: here('doors/studioProcess.ts'),
        host: here('doors/host.ts'),
        launch: here('doors/launch.ts'),
        // A thread's program is loaded by its file.
        planWorker: here('work/planWorker.ts'),
        zipWorker: here('work/zipWorker.ts'),
        captureWorker: here('work/captureWorker.ts'),
        cardWorker: here('work/cardWorker.ts'),
        checkWorker: here('work/checkWorker.ts'),
        checkAidsWorker: here('work/checkAidsWorker.ts'),
      },
      // Shared chunks lie beside the entries, so that import.meta.dirname is dist/main in every one of them.
      output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
    },
  },
})
