/** How an extra stands with the client. Only what is agreed is billed. */
export const extraStates = ['proposed', 'agreed', 'declined'] as const
export type ExtraState = (typeof extraStates)[number]

/** The name of an extra, counted per job: 'J-2026-0004/2'. */
export function extraName(jobNumber: string, number: number): string {
  return `${jobNumber}/${number}`
}
