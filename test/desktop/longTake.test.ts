import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { aStudioToTurn, turnALongTake } from '../path/longTake.ts'
import { type Desktop, describeDesktop, openDesktop } from './kit.ts'

describeDesktop('a long take in the desktop window', () => {
  it('ends with exactly the pressed frames and their times, over a killed program and a studio that stands still', async () => {
    const folder = await aStudioToTurn()
    const home = mkdtempSync(join(tmpdir(), 'turnsheet-desktop-'))
    let desktop = await openDesktop(folder, home)
    try {
      await turnALongTake(
        {
          page: () => desktop.page,
          async kill(goOn) {
            // First the studio stands still, so that the window alone keeps what is pressed; then all is killed.
            const processes = await processesOf(desktop)
            process.kill(studioOf(processes), 'SIGSTOP')
            await goOn()
            const gone = desktop.app.waitForEvent('close')
            for (const { pid } of processes) process.kill(pid, 'SIGKILL')
            await gone
            desktop = await openDesktop(folder, home)
          },
          cut: async () => void process.kill(studioOf(await processesOf(desktop)), 'SIGSTOP'),
          mend: async () => void process.kill(studioOf(await processesOf(desktop)), 'SIGCONT'),
          close: () => desktop.close(),
        },
        folder,
      )
      expect(desktop.complaints).toEqual([])
    } finally {
      await desktop.close().catch(() => {})
      rmSync(home, { recursive: true, force: true })
    }
  })
})

interface ProgramProcess {
  readonly pid: number
  readonly name: string
}

/** Every process of the program, the window's own among them. */
function processesOf(desktop: Desktop): Promise<readonly ProgramProcess[]> {
  return desktop.app.evaluate(({ app }) =>
    app.getAppMetrics().map(({ pid, name, type }) => ({ pid, name: name ?? type })),
  )
}

function studioOf(processes: readonly ProgramProcess[]): number {
  const studio = processes.find(({ name }) => name === 'Turnsheet studio')
  if (!studio) throw new Error(`No studio among ${processes.map(({ name }) => name).join(', ')}.`)
  return studio.pid
}
