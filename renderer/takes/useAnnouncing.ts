import { useEffect, useRef } from 'react'
import { toneOfFrame } from '../../main/trade/benchTones.ts'
import { saidOfFrame, saidOfRow, voiceFor } from '../../main/trade/benchVoice.ts'
import { benchChoices } from './benchChoices.ts'
import type { BenchQueue } from './benchQueue.ts'
import type { BenchVoice } from './speech.ts'
import type { BenchTones } from './tones.ts'

/** What the row about to be turned needs to be said of it; undefined where there is one row alone. */
export interface RowToSay {
  readonly row: number
  readonly rows: number
  readonly heightMm: number | null
  readonly tiltDeg: number
}

/** Sounds and says what happens to the take: frames as they are kept, warnings always, the row before it begins. */
export function useAnnouncing(
  queue: BenchQueue,
  row: RowToSay | undefined,
  locale: string,
  tones: BenchTones,
  voice: BenchVoice,
): void {
  const { phrases } = voiceFor(locale)
  const { state } = queue
  const heard = useRef({ good: state.good, nextMark: state.nextMark })
  useEffect(() => {
    const before = heard.current
    heard.current = { good: state.good, nextMark: state.nextMark }
    if (state.good <= before.good) return
    tones.play(toneOfFrame(state))
    const said = saidOfFrame(benchChoices.get().spoken, locale, state)
    if (said) voice.say(said)
  }, [state, locale, tones, voice])

  const { isCut, objection } = queue
  const wasCut = useRef(false)
  useEffect(() => {
    if (isCut === wasCut.current) return
    wasCut.current = isCut
    if (isCut) tones.play('cut')
    voice.say(isCut ? phrases.cut : phrases.back)
  }, [isCut, phrases, tones, voice])
  useEffect(() => {
    if (objection === undefined) return
    tones.play('refused')
    voice.say(phrases.refused)
  }, [objection, phrases, tones, voice])

  const rowText = row && state.shot === 0 ? saidOfRow(locale, row) : undefined
  const { say } = voice
  useEffect(() => {
    if (rowText) say(rowText)
  }, [rowText, say])
}
