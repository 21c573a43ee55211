import { Menu, type MenuItemConstructorOptions } from 'electron'

/** Sets the menu: the standard roles, and the browser door. */
export function setMenu(acts: { openBrowserDoor: () => void }): void {
  const mac = process.platform === 'darwin'
  const template: MenuItemConstructorOptions[] = [
    ...(mac ? [{ role: 'appMenu' as const }] : []),
    {
      label: 'File',
      submenu: [
        { id: 'browser-door', label: 'Open the browser door…', click: acts.openBrowserDoor },
        { type: 'separator' },
        { role: mac ? 'close' : 'quit' },
      ],
    },
    { role: 'editMenu' },
    {
      label: 'View',
      submenu: [
        { role: 'resetZoom' },
        { role: 'zoomIn' },
        { role: 'zoomOut' },
        { type: 'separator' },
        { role: 'togglefullscreen' },
        { role: 'toggleDevTools' },
      ],
    },
    { role: 'windowMenu' },
  ]
  Menu.setApplicationMenu(Menu.buildFromTemplate(template))
}
