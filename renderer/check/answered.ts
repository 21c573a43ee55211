import { type Finding, isMuchWorse } from '../../main/trade/check/finding.ts'

/** What a person said of a finding. */
export interface Answered {
  readonly key: string
  readonly answer: 'agreed' | 'waved off'
  /** How large it was when it was waved off. */
  readonly size: number | null
}

/**
 * How a finding stands: it waits for a person, is a fault of the take, is to be known alone, or a person said that it
 * is none.
 */
export type Standing = 'open' | 'fault' | 'known' | 'none'

export function standingOf(finding: Finding, answers: readonly Answered[]): Standing {
  const said = answers.find(({ key }) => key === finding.key)
  if (said?.answer === 'agreed') return 'fault'
  if (said && !isMuchWorse(finding, said.size)) return 'none'
  return finding.fault === null ? 'known' : 'open'
}
