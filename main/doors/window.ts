import { join } from 'node:path'
import { app, BrowserWindow, type Event, shell } from 'electron'
import { isOwnAddress, pageOrigin } from './scheme.ts'
import { keepPlace, keptPlace } from './windowPlace.ts'

/** Opens the program's window where it stood last, with a page that can reach nothing but its bridge. */
export function openWindow(): BrowserWindow {
  const placeFile = join(app.getPath('userData'), 'window.json')
  const place = keptPlace(placeFile)
  const window = new BrowserWindow({
    ...place.bounds,
    minWidth: 1024,
    minHeight: 700,
    show: false,
    title: 'Turnsheet',
    webPreferences: {
      preload: join(import.meta.dirname, 'preload.cjs'),
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      webviewTag: false,
      spellcheck: false,
    },
  })
  if (place.maximised) window.maximize()
  keepPlace(window, placeFile)
  holdOnPage(window)
  window.once('ready-to-show', () => window.show())
  void window.loadURL(`${pageOrigin}/`)
  return window
}

/** Keeps the window on our own page; `https:` links go to the person's browser. */
function holdOnPage(window: BrowserWindow): void {
  const { webContents } = window
  const hold = (event: Event, address: string) => {
    if (isOwnAddress(address)) return
    event.preventDefault()
    openOutside(address)
  }
  webContents.on('will-navigate', (event) => hold(event, event.url))
  webContents.on('will-redirect', (event) => hold(event, event.url))
  webContents.on('will-frame-navigate', (event) => hold(event, event.url))
  webContents.on('will-attach-webview', (event) => event.preventDefault())
  webContents.setWindowOpenHandler(({ url }) => {
    openOutside(url)
    return { action: 'deny' }
  })
  webContents.on('render-process-gone', (_event, { reason }) => {
    if (reason !== 'clean-exit') window.reload()
  })
}

/** Hands a link to the system's browser where it is plain `https:` without a name and password in it. */
function openOutside(address: string): void {
  if (!URL.canParse(address)) return
  const url = new URL(address)
  if (url.protocol === 'https:' && !url.username && !url.password) void shell.openExternal(url.href)
}
