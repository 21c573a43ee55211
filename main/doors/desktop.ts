import { app, type BrowserWindow, dialog, protocol } from 'electron'
import { studioArgument } from './arguments.ts'
import { askBrowserDoor } from './browserDoorDialog.ts'
import { channels } from './channels.ts'
import { setMenu } from './menu.ts'
import { answerPage } from './pageCalls.ts'
import { clearPaperCopies } from './paperCopies.ts'
import { denyPermissions } from './permissions.ts'
import { answerScheme, schemePrivileges } from './scheme.ts'
import { StudioLink } from './studioLink.ts'
import { openWindow } from './window.ts'

// The desktop program's own process: windows and nothing else. Electron wants the scheme before `ready`,
// and holds `ready` back until this module has loaded, so nothing here may be awaited at the top.
protocol.registerSchemesAsPrivileged([schemePrivileges])

/** A studio process that dies so often within a minute is not started again. */
const restartsPerMinute = 3

let window: BrowserWindow | undefined
let closed = false
const lostAt: number[] = []

const studio = new StudioLink(studioArgument(process.argv.slice(1)), {
  onChange: (change) => window?.webContents.send(channels.change, change),
  onRefused: (sentence) => {
    dialog.showErrorBox('Turnsheet cannot open this studio', sentence)
    closed = true
    app.quit()
  },
  onLost: startAgain,
})

if (app.requestSingleInstanceLock()) {
  app.on('second-instance', () => {
    if (window?.isMinimized()) window.restore()
    window?.focus()
  })
  app.on('window-all-closed', () => app.quit())
  // Not earlier: until the windows are gone, a page with unsaved words may still call the quitting off.
  app.on('will-quit', (event) => {
    if (closed) return
    event.preventDefault()
    clearPaperCopies()
    void closeStudio().then(() => app.quit())
  })
  void app.whenReady().then(open)
} else {
  closed = true
  app.quit()
}

function open(): void {
  studio.start()
  denyPermissions()
  answerScheme(studio)
  answerPage(studio, () => window)
  setMenu({ openBrowserDoor: () => askBrowserDoor(studio, window) })
  window = openWindow()
  window.on('closed', () => {
    window = undefined
  })
}

async function closeStudio(): Promise<void> {
  await studio.close()
  closed = true
}

/** Says that the studio process died and starts it again, unless it keeps dying. */
function startAgain(): void {
  const now = Date.now()
  lostAt.push(now)
  if (lostAt.filter((at) => now - at < 60_000).length > restartsPerMinute) {
    dialog.showErrorBox(
      'The studio keeps stopping',
      'The part of Turnsheet that keeps the studio has stopped several times within a minute. What was saved ' +
        'is safe. Turnsheet closes now; studio.log in the studio folder says why.',
    )
    app.exit(1)
    return
  }
  studio.start()
  const refresh = () => window?.webContents.send(channels.change, { count: 0, path: 'start.again' })
  void studio.ready.then(refresh, () => {})
  const told = {
    type: 'warning' as const,
    message: 'The studio stopped and was started again',
    detail:
      'What was saved is safe. What was being saved at that moment may be missing: look at it before you go on.',
  }
  void (window ? dialog.showMessageBox(window, told) : dialog.showMessageBox(told))
}
