/**
 * A refusal the person can put right. It travels to the screen as data: a code for the program, a sentence
 * for the person (what was wrong, the value, what to do) and, where one is to blame, the field's name.
 * Anything else that is thrown is a bug.
 */
export class Refusal extends Error {
  readonly code: string
  readonly field: string | undefined
  /** True where a reason typed by the person may overrule it: a fact about the world, never about the books. */
  readonly canOverrule: boolean

  constructor(code: string, sentence: string, options: { field?: string; canOverrule?: boolean } = {}) {
    super(sentence)
    this.name = 'Refusal'
    this.code = code
    this.field = options.field
    this.canOverrule = options.canOverrule ?? false
  }
}
