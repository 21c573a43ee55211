import { readFileSync, writeFileSync } from 'node:fs'
import { type BrowserWindow, type Rectangle, screen } from 'electron'
import * as z from 'zod'

const Place = z.object({
  bounds: z.object({
    x: z.int().optional(),
    y: z.int().optional(),
    width: z.int().min(1024),
    height: z.int().min(700),
  }),
  maximised: z.boolean(),
})

type WindowPlace = z.infer<typeof Place>

const firstPlace: WindowPlace = { bounds: { width: 1360, height: 860 }, maximised: false }

/** Where the window stood last; the first place where none is kept or its display is gone. */
export function keptPlace(file: string): WindowPlace {
  try {
    const kept = Place.parse(JSON.parse(readFileSync(file, 'utf8')))
    return isOnDisplay(kept.bounds) ? kept : firstPlace
  } catch {
    return firstPlace
  }
}

/** Keeps the window's place as it closes. */
export function keepPlace(window: BrowserWindow, file: string): void {
  window.on('close', () => {
    const place: WindowPlace = { bounds: window.getNormalBounds(), maximised: window.isMaximized() }
    try {
      writeFileSync(file, JSON.stringify(place))
    } catch {
      // A place that cannot be kept is a window that opens in the middle next time; no more.
    }
  })
}

/** True where enough of the title bar lies on some display to take hold of it. */
function isOnDisplay({ x, y, width }: WindowPlace['bounds']): boolean {
  if (x === undefined || y === undefined) return true
  const grip: Rectangle = { x: x + width / 2 - 50, y, width: 100, height: 30 }
  return screen.getAllDisplays().some(({ workArea }) => {
    const across = grip.x >= workArea.x && grip.x + grip.width <= workArea.x + workArea.width
    return across && grip.y >= workArea.y - 30 && grip.y + grip.height <= workArea.y + workArea.height
  })
}
