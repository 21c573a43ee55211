import { exposureChangeEv, exposureValue } from '../../main/trade/optics/exposure.ts'
import { shutterTimes } from '../../main/trade/optics/stops.ts'
import { type Outcome, workedOut } from './reading.ts'
import { exactFNumber } from './sharpView.ts'
import type { Typed } from './typed.ts'

/** How much brighter the second setting is under the same light, in a sentence; more than 0 is brighter. */
export interface ExposureView {
  readonly changeEv: number
  /** The exposure value of either, whatever its ISO. */
  readonly evs: readonly number[]
  readonly sentence: string
}

/** The change of exposure from what is set to another aperture, time and ISO. */
export function exposureView(typed: Typed): Outcome<ExposureView> {
  const stops = { least: 0.5, most: 128 }
  const isos = { least: 1, most: 10_000_000 }
  return workedOut(
    typed,
    { fNumber: 'toFNumber', seconds: 'toShutter', iso: 'toIso' },
    (reader) => ({
      from: {
        fNumber: reader.number('fNumber', 'The f-number', 2, stops),
        shutter: reader.shutter('shutter', 'The shutter time'),
        iso: reader.whole('iso', 'The ISO setting', isos),
      },
      to: {
        fNumber: reader.number('toFNumber', 'The other f-number', 2, stops),
        shutter: reader.shutter('toShutter', 'The other shutter time'),
        iso: reader.whole('toIso', 'The other ISO setting', isos),
      },
    }),
    ({ from, to }) => {
      const exact = ({ fNumber, shutter, iso }: typeof from) => ({
        fNumber: exactFNumber(fNumber),
        seconds: exactSeconds(shutter),
        iso,
      })
      const changeEv = exposureChangeEv(exact(from), exact(to))
      return {
        changeEv,
        evs: [from, to].map(exact).map(({ fNumber, seconds }) => exposureValue(fNumber, seconds)),
        sentence: exposureSentence(changeEv),
      }
    },
  )
}

function exposureSentence(changeEv: number): string {
  const thirds = Math.round(changeEv * 3)
  if (thirds === 0) return 'Both give the same exposure.'
  const stops = Math.abs(thirds) / 3
  const whole = Math.floor(stops + 1e-9)
  const rest = Math.abs(thirds) % 3
  const part = rest === 0 ? '' : rest === 1 ? '⅓' : '⅔'
  const count = `${whole === 0 ? '' : whole}${part}`
  const word = stops > 1 ? 'stops' : 'stop'
  return `The second is ${count} ${word} ${changeEv > 0 ? 'brighter' : 'darker'} under the same light.`
}

function exactSeconds({ num, den }: { readonly num: number; readonly den: number }): number {
  return shutterTimes.find((time) => time.num / time.den === num / den)?.exactSeconds ?? num / den
}
