/** A refusal as the page holds it: what was wrong, where, and whether a reason may overrule it. */
export interface ShownRefusal {
  readonly code: string
  readonly sentence: string
  /** The field to blame, by the name it was sent under (`promiseDays`, `lines.3.priceMinor`). */
  readonly field?: string | undefined
  readonly canOverrule: boolean
}
