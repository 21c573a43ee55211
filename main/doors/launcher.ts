import { join } from 'node:path'
import { type ProgramArguments, readArguments } from './arguments.ts'
import { runBrowserHost } from './browserHost.ts'
import { findDesktopRuntime, openDesktop } from './desktopRuntime.ts'
import { refusalSentence } from './refusalSentence.ts'

const project = join(import.meta.dirname, '../..')
const say = (line: string) => console.log(line)

/**
 * Opens the studio in the desktop window where that can be had, else says why in one line and serves the same
 * program to the browser.
 * @param words  the command line's words after the program's name
 * @returns      the exit code; a refusal is said in its own words
 */
export async function launch(words: readonly string[]): Promise<number> {
  try {
    return await open(readArguments(words))
  } catch (error) {
    console.error(refusalSentence(error))
    return 1
  }
}

async function open(asked: ProgramArguments): Promise<number> {
  const studio = asked.demo ? join(project, '.demo-studio') : asked.studio
  if (asked.demo) {
    const { buildDemoStudio } = await import('../demo/build.ts')
    await buildDemoStudio(studio, say)
  }
  if (!asked.open) return 0
  const runtime = await findDesktopRuntime(project, say)
  if ('program' in runtime) {
    const code = await openDesktop(runtime.program, project, studio)
    if (code !== 'could not start') return code
    say('No desktop window: Electron’s runtime ended before it opened one. Serving the browser instead.')
  } else {
    say(`No desktop window: ${runtime.missing}. Serving the browser instead.`)
  }
  await runBrowserHost({ studio, port: asked.port }, say)
  return 0
}
