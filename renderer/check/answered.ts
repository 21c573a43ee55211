import type { Finding } from '../../main/trade/check/finding.ts'

/** What a person said of a finding. */
export interface Answered {
  readonly key: string
  readonly answer: 'agreed' | 'waved off'
}

/**
 * How a finding stands: it waits for a person, is a fault of the take, is to be known alone, or a person said that it
 * is none.
 */
export type Standing = 'open' | 'fault' | 'known' | 'none'

export function standingOf({ key, fault }: Finding, answers: readonly Answered[]): Standing {
  const answer = answers.find((one) => one.key === key)?.answer
  if (answer === 'agreed') return 'fault'
  if (answer === 'waved off') return 'none'
  return fault === null ? 'known' : 'open'
}
