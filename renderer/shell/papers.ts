import { bridge } from './bridge.ts'

/** Shows a kept paper: in the computer's own program from the desktop window, in a tab of its own in a browser. */
export function openPaper(paperId: number): void {
  if (bridge) void bridge.openPaper(paperId)
  else window.open(`/papers/${paperId}`, '_blank', 'noopener')
}
