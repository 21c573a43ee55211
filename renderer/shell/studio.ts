import { createContext, useContext } from 'react'

/** The open studio as every screen needs it. */
export interface Studio {
  readonly name: string
  /** Who works here. */
  readonly personName: string
  /** ISO 4217: the studio's own currency. */
  readonly currency: string
  /** BCP 47: the language the bench speaks. */
  readonly locale: string
  /** IANA time zone; opening hours and days are local to it. */
  readonly timeZone: string
  /** The studio's day, `YYYY-MM-DD`. */
  readonly today: string
}

export const StudioHere = createContext<Studio | undefined>(undefined)

/** The open studio. Every screen is drawn inside one. */
export function useStudio(): Studio {
  const studio = useContext(StudioHere)
  if (!studio) throw new Error('useStudio was called outside an open studio.')
  return studio
}
