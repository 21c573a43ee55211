/** A code and its name, for a list to choose from. */
export interface Choice {
  readonly value: string
  readonly label: string
}

// Codes that Intl names although nobody's studio stands there: unions, outlying parts, test codes.
const notCountries = new Set([
  'EU',
  'EZ',
  'UN',
  'QO',
  'XA',
  'XB',
  'ZZ',
  'AC',
  'CP',
  'CQ',
  'DG',
  'EA',
  'IC',
  'TA',
])

/** Countries by their ISO 3166-1 code, in order of their English names. */
export function countryChoices(): Choice[] {
  const names = new Intl.DisplayNames('en-GB', { type: 'region', fallback: 'none' })
  const letters = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ']
  return letters
    .flatMap((a) => letters.map((b) => `${a}${b}`))
    .flatMap((value) => {
      const label = notCountries.has(value) || isOldName(value) ? undefined : names.of(value)
      return label ? [{ value, label }] : []
    })
    .sort((a, b) => a.label.localeCompare(b.label, 'en-GB'))
}

/** A code that today's list writes otherwise (DD is DE, UK is GB). */
function isOldName(code: string): boolean {
  return (
    new Intl.Locale(`und-${code}`).region !== code ||
    Intl.getCanonicalLocales(`und-${code}`)[0] !== `und-${code}`
  )
}

/** Currencies by their ISO 4217 code, with their English names. */
export function currencyChoices(codes: readonly string[]): Choice[] {
  const names = new Intl.DisplayNames('en-GB', { type: 'currency', fallback: 'none' })
  return codes.map((value) => ({ value, label: [value, names.of(value)].filter(Boolean).join(', ') }))
}

/** The time zones this machine knows, and its own. */
export function timeZoneChoices(): { readonly own: string; readonly choices: Choice[] } {
  const own = new Intl.DateTimeFormat().resolvedOptions().timeZone
  const zones = new Set([...Intl.supportedValuesOf('timeZone'), own])
  return { own, choices: [...zones].sort().map((value) => ({ value, label: value.replaceAll('_', ' ') })) }
}

/** The country in the browser's language (`en-GB`), or '' where it names none. */
export function likelyCountry(language: string): string {
  return new Intl.Locale(language).region ?? ''
}
