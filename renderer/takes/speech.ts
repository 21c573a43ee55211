import { useCallback, useMemo, useSyncExternalStore } from 'react'
import { voiceAmong, voiceFor } from '../../main/trade/benchVoice.ts'

/** The voice of this device for a language. */
export interface BenchVoice {
  /** False where the device has no voice of the language, and nothing can be said. */
  readonly hasVoice: boolean
  /** The voice's own name, to be shown. */
  readonly name: string | undefined
  /** Says something at once: what is said already gives way, since the newest mark is the one that counts. */
  readonly say: (text: string) => void
}

const noVoices: readonly SpeechSynthesisVoice[] = []

/** A voice for the studio's locale, where the device has one; voices may arrive a while after the page. */
export function useVoice(locale: string): BenchVoice {
  const voices = useSyncExternalStore(listenForVoices, voicesNow)
  const voice = useMemo(() => voiceAmong(voices, locale), [voices, locale])
  const say = useCallback(
    (text: string) => {
      if (!voice) return
      const words = new SpeechSynthesisUtterance(text)
      words.voice = voice
      words.lang = voice.lang || voiceFor(locale).language
      speechSynthesis.cancel()
      speechSynthesis.speak(words)
    },
    [voice, locale],
  )
  return { hasVoice: voice !== undefined, name: voice?.name, say }
}

function listenForVoices(onChange: () => void): () => void {
  if (typeof speechSynthesis === 'undefined') return () => {}
  speechSynthesis.addEventListener('voiceschanged', onChange)
  return () => speechSynthesis.removeEventListener('voiceschanged', onChange)
}

let known = noVoices

/** The same list for as long as it holds the same voices, so that nothing is drawn again for nothing. */
function voicesNow(): readonly SpeechSynthesisVoice[] {
  if (typeof speechSynthesis === 'undefined') return noVoices
  const now = speechSynthesis.getVoices()
  const isSame = now.length === known.length && now.every((voice, index) => voice === known[index])
  if (!isSame) known = now
  return known
}
