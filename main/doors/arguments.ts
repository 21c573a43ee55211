import { homedir } from 'node:os'
import { join, resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { Refusal } from '../trade/refusal.ts'

export interface ProgramArguments {
  /** Build the demo studio first, and open that. */
  readonly demo: boolean
  /** False: say the summary and end, open nothing. */
  readonly open: boolean
  /** The studio's folder: the one named, else the user's own. */
  readonly studio: string
  /** The port the browser door tries first. */
  readonly port: number
}

export const defaultPort = 7360

/** The user's own studio, where no other is named. */
export function ownStudio(): string {
  return join(homedir(), 'Turnsheet')
}

/** Reads the command line of the launcher and the browser door; refuses what it does not know. */
export function readArguments(args: readonly string[]): ProgramArguments {
  const { values } = parsed(args)
  return {
    demo: values.demo ?? false,
    open: !(values['no-open'] ?? false),
    studio: values.studio ? resolve(values.studio) : ownStudio(),
    port: readPort(values.port),
  }
}

/** Reads the studio's folder alone, among whatever switches Chromium was given. */
export function studioArgument(args: readonly string[]): string {
  const { values } = parseArgs({ args: [...args], options: { studio: { type: 'string' } }, strict: false })
  return typeof values.studio === 'string' && values.studio ? resolve(values.studio) : ownStudio()
}

function parsed(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      options: {
        demo: { type: 'boolean' },
        'no-open': { type: 'boolean' },
        studio: { type: 'string' },
        port: { type: 'string' },
      },
    })
  } catch (error) {
    const what = error instanceof Error ? error.message : String(error)
    throw new Refusal(
      'unknown-argument',
      `${what}. Known are --studio <folder>, --port <number>, --demo, --no-open.`,
    )
  }
}

function readPort(value: string | undefined): number {
  if (value === undefined) return defaultPort
  const port = Number(value)
  if (Number.isInteger(port) && port >= 1 && port <= 65_535) return port
  throw new Refusal(
    'port-not-valid',
    `The port, ${value}, is not a whole number from 1 to 65535. Name another.`,
  )
}
