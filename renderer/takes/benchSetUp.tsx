import { useEffect, useState } from 'react'
import { spokenChoices } from '../../main/trade/benchVoice.ts'
import { cycleMs, longestCueMs, rhythmOfStep, shortestCueMs } from '../../main/trade/pacing.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine, FormRefusal } from '../parts/form.tsx'
import { capital, secondsText } from '../parts/format.ts'
import { useStore } from '../shell/store.ts'
import { useStudio } from '../shell/studio.ts'
import { benchChoices, chooseAtBench } from './benchChoices.ts'
import { canFillScreen, turnFullScreen, useFillsScreen } from './fullScreen.ts'
import { defaultKeys, isTakenKey, type KeyAct, keyActs, keyWord, withKey, withoutKey } from './keyChoices.ts'
import { useVoice } from './speech.ts'
import { useTones } from './tones.ts'
import css from './turning.module.css'
import { BenchButton } from './turningButtons.tsx'

/** What stands in the head of the bench: sound, the whole screen, and how this device serves here. */
export function HeadButtons({ onSetUp }: { readonly onSetUp: () => void }) {
  const { isSounding } = useStore(benchChoices)
  const fills = useFillsScreen()
  return (
    <>
      <HeadButton
        word={isSounding ? 'Sound on' : 'Sound off'}
        isPressed={isSounding}
        onPress={() => chooseAtBench({ isSounding: !isSounding })}
      />
      {canFillScreen ? (
        <HeadButton word={fills ? 'Leave full screen' : 'Full screen'} onPress={turnFullScreen} />
      ) : null}
      <HeadButton word="Sound, beat, keys" onPress={onSetUp} />
    </>
  )
}

function HeadButton(props: {
  readonly word: string
  readonly isPressed?: boolean
  readonly onPress: () => void
}) {
  return (
    <button
      type="button"
      className={css.headAct}
      aria-pressed={props.isPressed}
      onClick={(event) => {
        event.currentTarget.blur()
        props.onPress()
      }}
    >
      {props.word}
    </button>
  )
}

/** How this device serves at the bench: what it sounds and says, what counts the frames, and its keys. */
export function BenchSetUp(props: { readonly stepMs: number; readonly onClose: () => void }) {
  return (
    <Dialog title="Sound, beat and keys of this device" onClose={props.onClose} wide>
      <SoundPart />
      <BeatPart stepMs={props.stepMs} />
      <KeysPart />
    </Dialog>
  )
}

function SoundPart() {
  const { isSounding, volume, spoken } = useStore(benchChoices)
  const { locale } = useStudio()
  const voice = useVoice(locale)
  const tones = useTones()
  return (
    <FieldGroup legend="Sound and voice">
      <div className={css.choices}>
        <BenchButton
          word="Sound"
          hint={isSounding ? 'on' : 'off'}
          isPressed={isSounding}
          onPress={() => chooseAtBench({ isSounding: !isSounding })}
        />
        <label className={css.slider}>
          <span>Loudness</span>
          <input
            type="range"
            min={0}
            max={100}
            step={5}
            value={Math.round(volume * 100)}
            onChange={(event) => {
              chooseAtBench({ volume: Number(event.target.value) / 100 })
              tones.play('press')
            }}
          />
        </label>
      </div>
      <p className={css.near}>
        {voice.hasVoice
          ? `Spoken marks, by the voice ‘${voice.name}’. Warnings are always spoken.`
          : `This device has no voice for the studio’s language (${locale}), so nothing is spoken; tones and the screen tell all the same. Voices are added in the device’s own settings.`}
      </p>
      <div className={css.choices}>
        {spokenChoices.map((one) => (
          <BenchButton
            key={one}
            word={one === 'off' ? 'No marks' : capital(one)}
            isPressed={spoken === one}
            isOff={!voice.hasVoice}
            onPress={() => chooseAtBench({ spoken: one })}
          />
        ))}
      </div>
    </FieldGroup>
  )
}

function BeatPart({ stepMs }: { readonly stepMs: number }) {
  const { counting, rhythm } = useStore(benchChoices)
  const ofRig = rhythmOfStep(stepMs)
  const [typed, setTyped] = useState<{ readonly [K in keyof typeof ofRig]: number | null }>(rhythm ?? ofRig)
  const change = (cue: keyof typeof ofRig) => (ms: number | null) => {
    const next = { ...typed, [cue]: ms }
    setTyped(next)
    if (isRhythm(next)) chooseAtBench({ rhythm: next })
  }
  return (
    <FieldGroup legend="What counts the frames">
      <div className={css.choices}>
        <BenchButton
          word="A key or the button"
          isPressed={counting === 'key'}
          onPress={() => chooseAtBench({ counting: 'key' })}
        />
        <BenchButton
          word="The beat: each ‘shoot’"
          isPressed={counting === 'beat'}
          onPress={() => chooseAtBench({ counting: 'beat' })}
        />
      </div>
      <FieldLine>
        {(['moveMs', 'waitMs', 'shootMs'] as const).map((cue) => (
          <NumberField
            key={cue}
            label={capital(cue.replace('Ms', ''))}
            name={cue}
            unit="s"
            places={3}
            value={typed[cue]}
            onChange={change(cue)}
            width="narrow"
          />
        ))}
        <Button
          large
          onClick={() => {
            chooseAtBench({ rhythm: null })
            setTyped(ofRig)
          }}
        >
          {`As the rig: ${secondsText(stepMs / 1000)}`}
        </Button>
      </FieldLine>
      {isRhythm(typed) ? (
        <p className={css.near}>
          {rhythm === null
            ? `The rhythm follows this rig’s median step, ${secondsText(stepMs / 1000)} a frame.`
            : `${secondsText(cycleMs(typed) / 1000)} a frame on this device.`}
        </p>
      ) : (
        <FormRefusal
          sentence={`Each cue lasts from ${shortestCueMs / 1000} to ${longestCueMs / 1000} s. The last rhythm that did is kept.`}
        />
      )}
    </FieldGroup>
  )
}

type Typed = {
  readonly moveMs: number | null
  readonly waitMs: number | null
  readonly shootMs: number | null
}

function isRhythm(typed: Typed): typed is { moveMs: number; waitMs: number; shootMs: number } {
  return Object.values(typed).every(
    (ms) => ms !== null && Number.isInteger(ms) && ms >= shortestCueMs && ms <= longestCueMs,
  )
}

const actWords: Readonly<Record<KeyAct, string>> = {
  frame: 'Frame',
  voidLast: 'Void last',
  back: 'Back to a mark',
  pause: 'Pause and go on',
  fault: 'Fault',
  note: 'Note',
  beat: 'Start and stop the beat',
  end: 'End the take',
  sound: 'Sound on and off',
  fullScreen: 'Full screen',
}

function KeysPart() {
  const { keys } = useStore(benchChoices)
  const [asked, setAsked] = useState<KeyAct>()
  useNextKey(asked, (key) => {
    if (asked) chooseAtBench({ keys: withKey(keys, asked, key) })
    setAsked(undefined)
  })
  return (
    <FieldGroup legend="Keys of this device and its remote">
      <p className={css.near} role="status">
        {asked
          ? `Press the key, or the button of the remote, for ‘${actWords[asked]}’.`
          : 'The digits 1 to 8 always mark a fault. Press an act to give it another key; press a key here to take it away.'}
      </p>
      <ul className={css.keys}>
        {keyActs.map((act) => (
          <li key={act}>
            <BenchButton word={actWords[act]} isPressed={asked === act} onPress={() => setAsked(act)} />
            <div className={css.keyCaps}>
              {keys[act].map((key) => (
                <button
                  key={key}
                  type="button"
                  className={css.keyCap}
                  aria-label={`Take ${keyWord(key)} away from ${actWords[act]}`}
                  onClick={() => chooseAtBench({ keys: withoutKey(keys, key) })}
                >
                  {keyWord(key)}
                </button>
              ))}
            </div>
          </li>
        ))}
      </ul>
      <ButtonRow>
        <Button large onClick={() => chooseAtBench({ keys: defaultKeys })}>
          The first keys again
        </Button>
      </ButtonRow>
    </FieldGroup>
  )
}

/** Hears one key while an act waits for it, before the dialog or the page can use it. */
function useNextKey(act: KeyAct | undefined, onKey: (key: string) => void): void {
  useEffect(() => {
    if (act === undefined) return
    const hear = (event: KeyboardEvent) => {
      if (isTakenKey(event.key)) return
      event.preventDefault()
      event.stopPropagation()
      onKey(event.key)
    }
    window.addEventListener('keydown', hear, true)
    return () => window.removeEventListener('keydown', hear, true)
  })
}
