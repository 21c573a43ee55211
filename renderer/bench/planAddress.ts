/** Which spins a plan is asked for: those of a job, those chosen, or with neither everything that waits. */
export interface WhichToPlan {
  readonly jobId?: number
  readonly shootIds?: number[]
}

/** Reads from the page's address what is to be planned. */
export function whichToPlan(params: URLSearchParams): WhichToPlan {
  const jobId = Number(params.get('job')) || undefined
  const spins = (params.get('spins') ?? '').split('.').map(Number).filter(Number.isSafeInteger)
  const shootIds = spins.filter((id) => id > 0)
  return { ...(jobId === undefined ? {} : { jobId }), ...(shootIds.length > 0 ? { shootIds } : {}) }
}

/** The address of the plan page for these spins. */
export function planAddress({ jobId, shootIds }: WhichToPlan): string {
  const params = new URLSearchParams()
  if (jobId !== undefined) params.set('job', String(jobId))
  // Full stops need no escape, so that the address of a thousand spins stays short enough to be loaded again.
  if (shootIds) params.set('spins', shootIds.join('.'))
  return params.size === 0 ? '/bench/plan' : `/bench/plan?${params}`
}
