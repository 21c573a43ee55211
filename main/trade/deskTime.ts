import type { Pace } from './pace.ts'

/** What of a job decides its time at the desk. Frames are counted once, however many deliverables share them. */
export interface DeskWork {
  readonly spins: number
  readonly framesShot: number
  readonly framesDeveloped: number
  readonly framesExported: number
  /** Frames finished in house, never frames shot. */
  readonly framesFinished: number
  /** Time to finish one frame to its finish class. */
  readonly finishFrameMs: number
}

export interface DeskTime {
  readonly copyMs: number
  readonly pickMs: number
  readonly developMs: number
  readonly exportMs: number
  readonly finishMs: number
  readonly totalMs: number
}

/** Desk time by the studio's own figures: copying, picking, developing, exporting and finishing, in ms. */
export function deskMs(work: DeskWork, pace: Pace): DeskTime {
  const copyMs = Math.round((work.framesShot * pace.frameBytes * 1000) / pace.copyBytesPerSecond)
  const pickMs = work.spins * pace.pickSpinMs
  const developMs = work.framesDeveloped * pace.developFrameMs
  const exportMs = work.framesExported * pace.exportFrameMs
  const finishMs = work.framesFinished * work.finishFrameMs
  return {
    copyMs,
    pickMs,
    developMs,
    exportMs,
    finishMs,
    totalMs: copyMs + pickMs + developMs + exportMs + finishMs,
  }
}
