import type * as z from 'zod'
import type { RefusalData } from './kit.ts'

/** The first thing that a call's input lacks, with the field to blame, as a sentence for the person who typed it. */
export function refusalOfZod(error: z.ZodError): RefusalData {
  const first = error.issues[0]
  const field = first?.path.map(String).join('.')
  return {
    code: 'not-valid',
    sentence: first ? sentenceOf(first) : 'What was sent could not be read.',
    field: field || undefined,
    canOverrule: false,
  }
}

// The library's own words are for programmers; a schema that has better ones sets its own message.
const ownWords = /^(Invalid|Too small|Too big|Unrecognized)\b/

// Limits are not repeated: a call's numbers are in the store's units, which are not always those on screen.
function sentenceOf(issue: z.core.$ZodIssue): string {
  if (!ownWords.test(issue.message)) return issue.message
  switch (issue.code) {
    case 'too_small':
      if (isList(issue.origin)) return 'Nothing is chosen here. Choose at least one.'
      return issue.origin === 'string' ? 'This is empty. Type it in.' : 'This is too little. Enter more.'
    case 'too_big':
      if (isList(issue.origin)) return 'These are too many at once. Choose fewer.'
      return issue.origin === 'string'
        ? `This text is longer than ${issue.maximum} characters. Shorten it.`
        : 'This is too much. Enter less.'
    case 'invalid_type':
      return issue.expected === 'int'
        ? 'This must be a whole number. Enter it without decimals.'
        : 'This is empty or cannot be read. Enter it.'
    case 'invalid_value':
      return 'This is not one of the choices. Choose one of them.'
    default:
      return 'This cannot be read as it is. Enter it again.'
  }
}

function isList(origin: string): boolean {
  return origin === 'array' || origin === 'set'
}
