import { join } from 'node:path'
import { readArguments } from './arguments.ts'
import { type BrowserDoor, openBrowserDoor } from './browserDoor.ts'
import { openHouse } from './openHouse.ts'
import { refusalSentence } from './refusalSentence.ts'

/**
 * Serves a studio to this computer's browsers until the program is told to end, then closes door and store.
 * @param say  says one line to the person; the address is one of them
 */
export async function runBrowserHost(
  options: { readonly studio: string; readonly port: number },
  say: (line: string) => void,
): Promise<void> {
  const ended = new Promise<void>((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, () => resolve())
  })
  const opened = openHouse(options.studio, join(import.meta.dirname, '../renderer'))
  let door: BrowserDoor | undefined
  try {
    door = await openBrowserDoor(opened.inside, options.port)
    say(`Turnsheet is open at ${door.newAddress()}`)
    say('The address lets in one browser on this computer, once. Press Ctrl+C here to close.')
    await ended
  } finally {
    await door?.close()
    opened.close()
  }
}

/**
 * The browser door as a program of its own.
 * @param words  the command line's words after the program's name
 * @returns      the exit code; a refusal is said in its own words
 */
export async function host(words: readonly string[]): Promise<number> {
  try {
    await runBrowserHost(readArguments(words), (line) => console.log(line))
    return 0
  } catch (error) {
    console.error(refusalSentence(error))
    return 1
  }
}
