import { type BrowserWindow, dialog, type IpcMainInvokeEvent, ipcMain } from 'electron'
import * as z from 'zod'
import type { BridgeAnswer, BridgeRequest } from './bridge.ts'
import { channels } from './channels.ts'
import { openPaperCopy } from './paperCopies.ts'
import { isOwnAddress, pageOrigin } from './scheme.ts'
import type { StudioLink } from './studioLink.ts'

const CallRequest = z.object({
  url: z.string().max(2_000_000),
  method: z.enum(['GET', 'POST']),
  headers: z.record(z.string(), z.string()),
  body: z.string().nullish(),
})

/** Answers the bridge of our own window's main frame, and nobody else. */
export function answerPage(studio: StudioLink, window: () => BrowserWindow | undefined): void {
  const answer = <A>(channel: string, run: (ask: unknown, from: BrowserWindow) => Promise<A>) =>
    ipcMain.handle(channel, (event, ask: unknown) => run(ask, ownWindow(event, window())))

  answer(channels.call, (ask) => call(studio, ask))
  answer(channels.openPaper, async (ask, from) => {
    const id = z.int().positive().parse(ask)
    const problem = await openedPaper(studio, id)
    if (problem) void dialog.showMessageBox(from, { type: 'warning', message: problem })
  })
  answer(channels.pickStudioFolder, async (_ask, from) => {
    const picked = await dialog.showOpenDialog(from, {
      title: 'Choose the folder of a studio',
      properties: ['openDirectory', 'createDirectory'],
    })
    return picked.filePaths[0]
  })
  answer(channels.pickFrameFolder, async (_ask, from) => {
    const picked = await dialog.showOpenDialog(from, {
      title: 'Choose the folder the camera or tether writes to',
      properties: ['openDirectory'],
    })
    return picked.filePaths[0]
  })
}

function ownWindow(event: IpcMainInvokeEvent, window: BrowserWindow | undefined): BrowserWindow {
  const frame = event.senderFrame
  if (!window || !frame || frame !== window.webContents.mainFrame || frame.origin !== pageOrigin) {
    throw new Error('This call does not come from the page of Turnsheet’s window.')
  }
  return window
}

function call(studio: StudioLink, ask: unknown): Promise<BridgeAnswer> {
  const request: BridgeRequest = CallRequest.parse(ask)
  const url = new URL(request.url, pageOrigin)
  if (!isOwnAddress(url.href) || !url.pathname.startsWith('/api/')) {
    throw new Error('The bridge carries calls under /api/ alone.')
  }
  return studio.ask('call', { ...request, url: url.href })
}

/** Opens a copy of a paper; a sentence says why it could not be. */
async function openedPaper(studio: StudioLink, id: number): Promise<string> {
  try {
    const paper = await studio.ask('paper', { id })
    return paper ? await openPaperCopy(paper) : 'This paper is not in the studio any more.'
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
}
