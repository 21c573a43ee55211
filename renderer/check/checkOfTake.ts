import type { Answers } from '../../main/api/types.ts'
import { type Answer, api, useAsk } from '../shell/api.ts'

/** The newest report of a take with what was said of it, and how its check stands. */
export type CheckOfTake = Answers['takeCheck']['report'] & { readonly status: Answers['takeCheck']['status'] }

/** Follows the check of a take. */
export function useCheck(takeId: number): Answer<CheckOfTake> {
  return useAsk(['takeCheck', takeId], async () => {
    // In one go: both are sent in one batch, and belong together.
    const [report, status] = await Promise.all([
      api.takeCheck.report.query({ takeId }),
      api.takeCheck.status.query({ takeId }),
    ])
    return { ...report, status }
  })
}
