import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { rhythmOfStep } from '../../main/trade/pacing.ts'
import { choicesFrom } from '../../renderer/takes/benchChoices.ts'
import {
  actOfKey,
  type BenchKeys,
  defaultKeys,
  faultDigits,
  isTakenKey,
  keyActs,
  keysFrom,
  withKey,
  withoutKey,
} from '../../renderer/takes/keyChoices.ts'

const act = fc.constantFrom(...keyActs)
const key = fc.constantFrom(
  'a',
  'B',
  ' ',
  'Enter',
  'PageDown',
  'PageUp',
  'F5',
  'Escape',
  '.',
  'F13',
  'MediaPlayPause',
)
const allKeys = (keys: BenchKeys) => keyActs.flatMap((one) => keys[one])

describe('the keys of the bench', () => {
  it('hear what page-turners, slide remotes and shutter remotes send', () => {
    // Common practice, no published source: the names are those of UI Events KeyboardEvent key Values (W3C).
    expect(
      ['PageDown', 'ArrowRight', 'Enter', ' ', 'AudioVolumeUp'].map((one) => actOfKey(defaultKeys, one)),
    ).toEqual(Array(5).fill('frame'))
    expect(['PageUp', 'ArrowLeft', 'Backspace'].map((one) => actOfKey(defaultKeys, one))).toEqual(
      Array(3).fill('voidLast'),
    )
    expect(['F5', 'Escape', '.'].map((one) => actOfKey(defaultKeys, one))).toEqual([
      'pause',
      'pause',
      'fault',
    ])
  })

  it('do one thing each, whatever is given to what', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(act, key), { maxLength: 20 }), (given) => {
        let keys = defaultKeys
        for (const [one, name] of given) {
          keys = withKey(keys, one, name)
          expect(actOfKey(keys, name)).toBe(one)
        }
        expect(new Set(allKeys(keys)).size).toBe(allKeys(keys).length)
        expect(keysFrom(JSON.parse(JSON.stringify(keys)))).toEqual(keys)
      }),
    )
  })

  it('can be taken away, and then do nothing', () => {
    expect(actOfKey(withoutKey(defaultKeys, 'F5'), 'F5')).toBeUndefined()
  })

  it('leave the digits to faults, and the focus to Tab', () => {
    for (const one of [...faultDigits, 'Tab', 'Shift']) expect(isTakenKey(one)).toBe(true)
    expect(allKeys(defaultKeys).filter(isTakenKey)).toEqual([])
  })
})

describe('what a device keeps of the bench', () => {
  it('comes back as it was chosen', () => {
    const chosen = {
      isSounding: false,
      volume: 0.25,
      spoken: 'every mark' as const,
      counting: 'beat' as const,
      rhythm: rhythmOfStep(7000),
      keys: withKey(defaultKeys, 'frame', 'F13'),
    }
    expect(choicesFrom(JSON.stringify(chosen))).toEqual(chosen)
  })

  it('is as on a new device where it makes no sense, and never breaks the bench', () => {
    const first = choicesFrom(null)
    // Heard without being asked for: the eyes are on the platter.
    expect(first).toMatchObject({ isSounding: true, spoken: 'every tenth' })
    expect(choicesFrom('{')).toEqual(first)
    expect(
      choicesFrom('{"volume":7,"spoken":"loud","counting":3,"rhythm":{"moveMs":1},"keys":{"frame":[1]}}'),
    ).toEqual({ ...first, keys: { ...first.keys, frame: [] } })
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const { keys, volume } = choicesFrom(JSON.stringify(value))
        expect(volume).toBeGreaterThanOrEqual(0)
        expect(new Set(allKeys(keys)).size).toBe(allKeys(keys).length)
      }),
    )
  })
})
