import { useEffect, useMemo } from 'react'
import { type ToneKind, toneOf } from '../../main/trade/benchTones.ts'
import { benchChoices } from './benchChoices.ts'

/** Quiet edges of a note, in seconds: without them a note begins and ends with a click. */
const edgeS = 0.008

/** Puts a tone's notes on the clock of an audio graph, each an oscillator with a swell of its own. */
export function soundTone(context: BaseAudioContext, kind: ToneKind, volume: number): void {
  const now = context.currentTime
  for (const { hz, startMs, lengthMs } of toneOf(kind)) {
    const from = now + startMs / 1000
    const to = from + lengthMs / 1000
    const oscillator = context.createOscillator()
    const swell = context.createGain()
    oscillator.type = 'triangle'
    oscillator.frequency.value = hz
    swell.gain.setValueAtTime(0, from)
    swell.gain.linearRampToValueAtTime(volume, from + edgeS)
    swell.gain.setValueAtTime(volume, to - edgeS)
    swell.gain.linearRampToValueAtTime(0, to)
    oscillator.connect(swell).connect(context.destination)
    oscillator.start(from)
    oscillator.stop(to)
  }
}

/** Sounds the bench's tones, with the loudness of this device; silent until the first press, as browsers want it. */
export interface BenchTones {
  readonly play: (kind: ToneKind) => void
}

export function useTones(): BenchTones {
  const player = useMemo(() => new TonePlayer(), [])
  useEffect(() => {
    // A browser lets a page sound from a press on, and not before.
    const unlock = () => player.unlock()
    window.addEventListener('pointerdown', unlock, true)
    window.addEventListener('keydown', unlock, true)
    return () => {
      window.removeEventListener('pointerdown', unlock, true)
      window.removeEventListener('keydown', unlock, true)
      player.close()
    }
  }, [player])
  return player
}

class TonePlayer implements BenchTones {
  #context: AudioContext | undefined

  unlock(): void {
    if (typeof AudioContext === 'undefined') return
    this.#context ??= new AudioContext({ latencyHint: 'interactive' })
    // After a telephone's call or a sleep the context stands still until it is asked again.
    if (this.#context.state !== 'running') this.#context.resume().catch(() => {})
  }

  readonly play = (kind: ToneKind): void => {
    const { isSounding, volume } = benchChoices.get()
    if (isSounding && volume > 0 && this.#context?.state === 'running') soundTone(this.#context, kind, volume)
  }

  close(): void {
    void this.#context?.close()
    this.#context = undefined
  }
}
