import type { TakeFact } from '../../main/trade/takeFact.ts'

/** 4 May 2026, nine in the morning in Berlin. */
export const morning = Date.parse('2026-05-04T07:00:00.000Z')
export const minute = 60_000

/**
 * A kept take of one row of 100 frames at 6 s, counted by its files, of a small matt product without a family; a
 * test names what it is about. It ends 600 s after its start unless its end is named.
 */
export function aFact(differs: Partial<TakeFact> = {}): TakeFact {
  const startedMs = differs.startedMs ?? morning
  return {
    jobId: 1,
    shootId: 1,
    row: 1,
    rows: 1,
    rigId: 1,
    rigRevisionId: 1,
    settingsId: 1,
    benchId: 1,
    startedMs,
    endedMs: startedMs + 600_000,
    spanMs: null,
    pausedMs: 0,
    framesShot: 100,
    framesWanted: 100,
    medianStepMs: 6000,
    verdict: 'keep',
    reshoots: 0,
    sizeClass: 'small',
    finish: 'matt',
    familyId: null,
    ...differs,
  }
}

/** Takes of that many spins one after the other at one bench, each this long after the end of the one before. */
export function spinsInARow(count: number, gapMs: number, differs: Partial<TakeFact> = {}): TakeFact[] {
  return Array.from({ length: count }, (_, i) =>
    aFact({ shootId: i + 1, startedMs: morning + i * (600_000 + gapMs), ...differs }),
  )
}
