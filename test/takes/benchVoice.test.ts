import { describe, expect, it } from 'vitest'
import {
  saidOfFrame,
  saidOfRow,
  spokenFigure,
  spokenLanguages,
  voiceAmong,
  voiceFor,
} from '../../main/trade/benchVoice.ts'

const frame = (nextMark: number) => ({
  nextMark,
  nextMarkMm: nextMark * 5,
  framesPerTurn: 244,
  toShoot: 326,
  isDone: nextMark === 326,
})
const said = (choice: 'off' | 'every tenth' | 'every mark') =>
  Array.from({ length: 326 }, (_, index) => saidOfFrame(choice, 'en-GB', frame(index + 1)))

describe('what the bench says', () => {
  it('is nothing when it is off, a word with every frame when it is every mark', () => {
    expect(said('off').filter(Boolean)).toEqual([])
    expect(said('every mark').filter(Boolean)).toHaveLength(326)
  })

  it('is every tenth, the seam and the end of 244 and 82 frames otherwise', () => {
    const words = said('every tenth')
    expect(words.filter(Boolean)).toHaveLength(34)
    expect(words[9]).toBe('10. Turn to 50.')
    expect(words[243]).toBe('The turn is closed. 82 more.')
    expect(words[325]).toBe('All frames are shot.')
  })

  it('is in the studio’s language, and in English where it knows none', () => {
    expect(voiceFor('de-AT').language).toBe('de')
    expect(voiceFor('FR').language).toBe('fr')
    expect(voiceFor('fi-FI').language).toBe('en')
    for (const language of spokenLanguages) {
      expect(saidOfFrame('every mark', language, frame(5))).toContain('25')
      expect(saidOfFrame('every mark', language, frame(326))?.length).toBeGreaterThan(3)
    }
  })

  it('reads figures as one number, with the language’s decimal sign', () => {
    // Unicode CLDR: the decimal sign is a point in English and a comma in German and French.
    expect(spokenFigure(1017.5, 'en')).toBe('1017.5')
    expect(spokenFigure(1017.5, 'de')).toBe('1017,5')
    expect(spokenFigure(1017.5, 'fr')).toBe('1017,5')
  })

  it('tells a row’s camera before its first frame', () => {
    expect(saidOfRow('en-GB', { row: 2, rows: 3, heightMm: 620, tiltDeg: 15 })).toBe(
      'Row 2 of 3. Camera height 620 millimetres. 15 degrees down.',
    )
    expect(saidOfRow('en-GB', { row: 2, rows: 3, heightMm: null, tiltDeg: 0 })).toBe('Row 2 of 3. Level.')
  })
})

describe('the voice', () => {
  const voice = (lang: string, localService = true) => ({ lang, localService })

  it('is of the language, the region first, and on this device before one over the network', () => {
    const voices = [voice('fr-FR'), voice('en-US'), voice('en_GB', false), voice('en-GB')]
    expect(voiceAmong(voices, 'en-GB')).toBe(voices[3])
    expect(voiceAmong(voices, 'en-IE')).toBe(voices[1])
    expect(voiceAmong(voices, 'fr-CA')).toBe(voices[0])
  })

  it('is none where the device has none of the language', () => {
    expect(voiceAmong([voice('fr-FR')], 'de-DE')).toBeUndefined()
    expect(voiceAmong([], 'en-GB')).toBeUndefined()
  })
})
