import type { TakeReport, Verdict } from '../../main/trade/check/report.ts'

const clean: Verdict = { state: 'clean', sentence: 'Nothing was found.' }

/** A report; only what a test is about matters to it. */
export function aReport(of: Partial<TakeReport> = {}): TakeReport {
  return {
    framesOfTake: 8,
    framesRead: 8,
    lastFrame: 8,
    leftOut: [],
    frames: [],
    light: { ...clean, flickerEv: 0, stepEv: 0, driftEv: 0 },
    steps: { ...clean, missed: [], doubled: [] },
    closing: {
      ...clean,
      by: 'picture',
      framesPerTurn: 8,
      confidence: 0.9,
      loopIn: 1,
      loopOut: 8,
      seamRatio: 1,
    },
    centre: {
      ...clean,
      choice: 'body',
      offset: null,
      nudgeTowardsMark: null,
      quality: null,
      measuredOn: null,
    },
    framing: clean,
    horizon: { ...clean, lean: null },
    files: clean,
    findings: [],
    unknown: [],
    ...of,
  }
}
