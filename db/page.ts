/** The part of a list that a screen asks for: lists page and sort in the studio. */
export interface Page {
  readonly offset: number
  readonly limit: number
}
