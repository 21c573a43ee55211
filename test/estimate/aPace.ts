import type { Pace } from '../../main/trade/pace.ts'
import type { SpinWork } from '../../main/trade/spinCost.ts'

/** A pace without handling, changes or chances, of which a test names what it is about. */
export function aPace(differs: Partial<Pace> = {}): Pace {
  return {
    stepMs: 6000,
    stepSpreadPpm: 0,
    checkFrames: 0,
    rowChangeMs: 0,
    restartPpm: 0,
    restartPauseMs: 0,
    reshootPpm: 0,
    changePlatterMs: 900_000,
    changeLightMs: 300_000,
    changeCameraMs: 480_000,
    changeLensMs: 240_000,
    changeBackdropMs: 600_000,
    changeSettingsMs: 60_000,
    frameBytes: 42_000_000,
    copyBytesPerSecond: 60_000_000,
    developFrameMs: 0,
    pickSpinMs: 0,
    exportFrameMs: 0,
    handlingSpreadPpm: 0,
    besidePpm: 0,
    handling: [{ sizeClass: 'small', finish: 'matt', firstMs: 0, followingMs: 0 }],
    ...differs,
  }
}

/** A small matt product, one row of 244 frames without overlap. */
export function aSpin(differs: Partial<SpinWork> = {}): SpinWork {
  return {
    sizeClass: 'small',
    finish: 'matt',
    isFirstOfFamily: true,
    rows: [{ frames: 244, overlap: 0 }],
    setChangeMs: 0,
    ...differs,
  }
}
