import { type BrowserWindow, clipboard, dialog, shell } from 'electron'
import { defaultPort } from './arguments.ts'
import type { StudioLink } from './studioLink.ts'

/** Opens the browser door beside the window and shows its address, which lets in one browser, once. */
export async function askBrowserDoor(studio: StudioLink, window: BrowserWindow | undefined): Promise<void> {
  const show = (options: Electron.MessageBoxOptions) =>
    window ? dialog.showMessageBox(window, options) : dialog.showMessageBox(options)
  try {
    const { address } = await studio.ask('openDoor', { port: defaultPort })
    const { response } = await show({
      type: 'info',
      message: 'The browser door is open',
      detail:
        `${address}\n\nThis address lets one browser on this computer into the studio, once. ` +
        'Open the door again for another. It closes with Turnsheet.',
      buttons: ['Open in the browser', 'Copy the address', 'Close the door', 'Done'],
      defaultId: 3,
      cancelId: 3,
      noLink: true,
    })
    if (response === 0) await shell.openExternal(address)
    if (response === 1) clipboard.writeText(address)
    if (response === 2) await studio.ask('closeDoor', undefined)
  } catch (error) {
    const detail = error instanceof Error ? error.message : String(error)
    await show({ type: 'warning', message: 'The browser door could not be opened', detail })
  }
}
