/** The helps before a take, as the address of the page names them. */
export const aidNames = ['centre', 'white', 'match'] as const
export type AidName = (typeof aidNames)[number]

/** What each is called, and what it is for. */
export const aidWords: Readonly<Record<AidName, { readonly word: string; readonly what: string }>> = {
  centre: { word: 'Centre it', what: 'how far off the axis, and towards which mark' },
  white: { word: 'White test', what: 'one frame tells whether the backdrop can be lifted to white' },
  match: { word: 'Match last time', what: 'the newest frame against the approved one' },
}

/** The help that an address names; undefined where it names none. */
export function aidOf(named: string | null): AidName | undefined {
  return aidNames.find((name) => name === named)
}
