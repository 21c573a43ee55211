import { expect, it } from 'vitest'
import { countryChoices, likelyCountry, timeZoneChoices } from '../../renderer/start/places.ts'

it('offers every country by its present code and none by an old one', () => {
  const codes = countryChoices().map((choice) => choice.value)
  // ISO 3166-1 has 249 codes (from memory); Intl also names Kosovo by the user-assigned XK.
  expect(codes.filter((code) => code !== 'XK')).toHaveLength(249)
  expect(codes).toContain('GB')
  expect(codes).not.toContain('UK')
  expect(codes).not.toContain('DD')
  expect(new Set(codes).size).toBe(codes.length)
})

it('offers the machine’s own time zone among the others', () => {
  const { own, choices } = timeZoneChoices()
  expect(choices.map((choice) => choice.value)).toContain(own)
  expect(choices.map((choice) => choice.value)).toContain('Europe/Berlin')
})

it('takes the country from the language only where the language names one', () => {
  expect(likelyCountry('de-AT')).toBe('AT')
  expect(likelyCountry('de')).toBe('')
})
