/** The names under which the page's bridge and the main process meet. */
export const channels = {
  call: 'turnsheet:call',
  change: 'turnsheet:change',
  openPaper: 'turnsheet:open-paper',
  pickStudioFolder: 'turnsheet:pick-studio-folder',
  pickFrameFolder: 'turnsheet:pick-frame-folder',
} as const
