/** Why a thing is not here, in a sentence: 'The 100 mm macro is in repair until 2026-03-20 (focus ring).' */
export function outageText(
  name: string,
  outage: { readonly kind: 'away' | 'repair'; readonly toDay: string | null; readonly reason: string | null },
): string {
  const where = outage.kind === 'repair' ? 'in repair' : 'away'
  const until = outage.toDay === null ? 'without a known day of return' : `until ${outage.toDay}`
  return `'${name}' is ${where} ${until}${outage.reason ? ` (${outage.reason})` : ''}.`
}
