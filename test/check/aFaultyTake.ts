import { keyAt } from '../../main/trade/check/finding.ts'
import type { PlannedFrame, PlannedTake } from './aDrawnTurn.ts'

/** A take with a fault, and the keys of what must be found of it. */
export interface FaultyTake {
  readonly fault: FaultName
  readonly take: PlannedTake
  readonly expected: readonly string[]
}

export const faultNames = [
  'mark passed over',
  'step of all light',
  'odd frame',
  'step on the backdrop',
  'product flicker',
  'mark shot twice',
  'step on the product',
  'drift',
  'flicker',
  'product drift',
  'cut short',
  'other shutter',
] as const
export type FaultName = (typeof faultNames)[number]

/** Whether the take could show it: no picture tells the marks of a can, nor a slow change of the product's lamp without two frames past the turn. */
export function canShow({ turn, overlap }: PlannedTake, fault: FaultName): boolean {
  if (fault === 'product drift') return overlap > 1
  return !(turn.kind === 'can' && fault.startsWith('mark'))
}

export function aFaultyTake(take: PlannedTake, fault: FaultName): FaultyTake {
  const { random } = take.turn
  const frames = take.frames.length
  const at = 4 + Math.floor(random() * (frames - 8))
  const either = (least: number, most: number) =>
    (least + (most - least) * random()) * (random() < 0.5 ? -1 : 1)
  const changed = (change: (frame: PlannedFrame, index: number) => Partial<PlannedFrame> | null) => ({
    ...take,
    frames: take.frames.map((frame, index) => {
      const part = change(frame, index)
      return part ? { ...frame, ...part } : frame
    }),
  })
  const from = (change: (frame: PlannedFrame) => Partial<PlannedFrame>) =>
    changed((frame, index) => (index >= at ? change(frame) : null))
  const of = (faulty: PlannedTake, ...keys: readonly string[]): FaultyTake => ({
    fault,
    take: faulty,
    expected: keys,
  })
  const named = at + 1
  switch (fault) {
    case 'mark passed over':
      return of({ ...take, frames: take.frames.toSpliced(at, 1) }, keyAt('missed step', named))
    case 'mark shot twice': {
      const again = take.frames
        .slice(at, named)
        .map((frame) => ({ ...frame, noiseSeed: frame.noiseSeed + 7 }))
      const twice = take.frames.toSpliced(named, 0, ...again)
      return of({ ...take, frames: twice }, keyAt('same picture', named, named + 1))
    }
    case 'step of all light': {
      const ev = either(0.1, 0.4)
      return of(
        from(({ lightEv }) => ({ lightEv: lightEv + ev })),
        keyAt('light:step', named),
      )
    }
    case 'step on the backdrop': {
      const backdropEv = either(0.1, 0.4)
      return of(
        from(() => ({ backdropEv })),
        keyAt('light:step', named),
      )
    }
    case 'step on the product': {
      const productEv = -0.6 - 0.6 * random()
      return of(
        from(() => ({ productEv })),
        keyAt('light:step', named),
      )
    }
    case 'drift': {
      const ev = either(0.2, 0.4)
      return of(
        changed(({ lightEv }, index) => ({ lightEv: lightEv + (ev * index) / frames })),
        'light:drift',
      )
    }
    case 'product drift': {
      const ev = either(0.35, 0.6)
      return of(
        changed((_, index) => ({ productEv: (ev * index) / frames })),
        'light:product drift',
      )
    }
    case 'flicker': {
      const ev = 0.05 + 0.1 * random()
      return of(
        changed(({ lightEv }, index) =>
          index % 4 === 1 ? { lightEv: lightEv + (random() < 0.5 ? -ev : ev) } : null,
        ),
        'light:flicker',
      )
    }
    case 'product flicker': {
      // At coarse steps turning does as much as a weak lamp.
      const ev = Math.max(0.2, 8 / take.framesPerTurn)
      return of(
        changed(() => ({ productEv: either(ev / 2, 1.5 * ev) })),
        'light:flicker',
      )
    }
    case 'odd frame': {
      const lightEv = random() < 0.25 ? -8 : either(0.4, 1.6)
      return of(
        changed((_, index) => (index === at ? { lightEv } : null)),
        keyAt('light:odd', named),
      )
    }
    case 'cut short':
      return of(
        changed((_, index) => (index === at ? { isCutShort: true } : null)),
        keyAt('file cut short', named),
      )
    case 'other shutter': {
      // One third of a stop, as cameras count it: 1/125 s to 1/100 s or 1/160 s.
      const shutterSeconds = random() < 0.5 ? 1 / 100 : 1 / 160
      const ev = Math.log2(shutterSeconds * 125)
      return of(
        from(({ lightEv }) => ({ shutterSeconds, lightEv: lightEv + ev })),
        keyAt('shutterSeconds', named),
        keyAt('light:step', named),
      )
    }
  }
}
