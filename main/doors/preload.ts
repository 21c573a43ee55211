import { contextBridge, type IpcRendererEvent, ipcRenderer } from 'electron'
import type { Change } from '../api/house.ts'
import type { Bridge } from './bridge.ts'
import { channels } from './channels.ts'

const bridge: Bridge = {
  door: 'desktop',
  call: (request) => ipcRenderer.invoke(channels.call, request),
  onChange: (listener) => {
    // The event itself stays here: it carries the sender, which a page must not hold.
    const heard = (_event: IpcRendererEvent, change: Change) => listener(change)
    ipcRenderer.on(channels.change, heard)
    return () => ipcRenderer.off(channels.change, heard)
  },
  openPaper: (id) => ipcRenderer.invoke(channels.openPaper, id),
  pickStudioFolder: () => ipcRenderer.invoke(channels.pickStudioFolder),
  pickFrameFolder: () => ipcRenderer.invoke(channels.pickFrameFolder),
}

contextBridge.exposeInMainWorld('turnsheet', bridge)
