import { useState } from 'react'
import type { CameraChange } from '../../main/trade/benchRows.ts'
import { voiceFor } from '../../main/trade/benchVoice.ts'
import { type Beat, rhythmOfStep } from '../../main/trade/pacing.ts'
import { api } from '../shell/api.ts'
import { useStore } from '../shell/store.ts'
import { useStudio } from '../shell/studio.ts'
import { benchChoices } from './benchChoices.ts'
import type { BenchQueue } from './benchQueue.ts'
import { usePacing } from './pacing.ts'
import { useVoice } from './speech.ts'
import { useTones } from './tones.ts'
import type { TakePage } from './turningState.ts'
import { useAnnouncing } from './useAnnouncing.ts'

/** The paced beat at the bench, and the words of the bench. */
export interface BenchBeat {
  /** The cue of now; undefined while the beat stands still. */
  readonly beat: Beat | undefined
  readonly isOn: boolean
  /** True after the page stood still for longer than a cue: nothing was counted since. */
  readonly hasStopped: boolean
  /** Starts it, ending a pause, or stops it. */
  readonly turn: () => void
  readonly stop: () => void
  readonly sayPaused: () => void
}

/**
 * The paced beat, which counts a frame at each `shoot`, and all that is heard at the bench.
 * @param isBusy  while a dialog is open the hands are not at the platter: the beat waits and begins with a `move`
 */
export function useBeat(
  page: TakePage,
  queue: BenchQueue,
  change: CameraChange | undefined,
  isBusy: boolean,
): BenchBeat {
  const choices = useStore(benchChoices)
  const { locale } = useStudio()
  const tones = useTones()
  const voice = useVoice(locale)
  const { phrases } = voiceFor(locale)
  const [isOn, setOn] = useState(false)
  const [hasStopped, setStopped] = useState(false)
  const { state } = queue
  const row = change && {
    row: page.take.row,
    rows: page.rows,
    heightMm: change.heightMm,
    tiltDeg: change.tiltDeg,
  }
  useAnnouncing(queue, row, locale, tones, voice)
  // The rhythm stays as it was when the beat began: a pace that is still being learned would make it stumble.
  const [learnedMs, setLearnedMs] = useState(page.usualStepMs)
  const isHere = queue.hand === 'here' && choices.counting === 'beat'
  const isBeating = isOn && isHere && !isBusy && !state.isPaused && !state.isDone && !state.isEnded
  const beat = usePacing(
    choices.rhythm ?? rhythmOfStep(learnedMs),
    isBeating,
    ({ cue }) => {
      tones.play(cue)
      if (choices.spoken !== 'off') voice.say(phrases[cue])
      // Where files count, the beat only keeps the pace.
      if (cue === 'shoot' && page.take.countedBy !== 'folder') queue.act({ kind: 'frame' })
    },
    () => {
      setOn(false)
      setStopped(true)
      tones.play('refused')
      voice.say(phrases.beatStopped)
    },
  )
  const turn = () => {
    const isStarting = !isOn || state.isPaused
    if (state.isPaused) queue.act({ kind: 'resume' })
    if (isStarting) {
      setLearnedMs(state.stepMs)
      tellBeat(page)
    }
    setStopped(false)
    setOn(isStarting)
  }
  return {
    beat,
    isOn: isOn && !state.isPaused,
    hasStopped,
    turn,
    stop: () => setOn(false),
    sayPaused: () => voice.say(phrases.paused),
  }
}

/** The take says what counts it. While the studio does not answer it goes on unsaid, and is told with the next start. */
function tellBeat({ take }: TakePage): void {
  if (take.countedBy === 'key') api.takes.byBeat.mutate({ takeId: take.id }).catch(() => {})
}
