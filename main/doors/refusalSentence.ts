import { Refusal } from '../trade/refusal.ts'

/** What to tell a person of a failure outside the page: a refusal in its own words, a bug with its message. */
export function refusalSentence(error: unknown): string {
  if (error instanceof Refusal) return error.message
  return `Something broke: ${error instanceof Error ? error.message : String(error)}`
}
