import { storeOf } from './store.ts'

/** The bug that is shown over the page, or undefined. */
export const breakage = storeOf<unknown>(undefined)

/** Shows a bug over the page; what was typed stays behind it. */
export function reportBreakage(error: unknown): void {
  breakage.set(error)
}

/** Shows bugs that no one caught. */
export function watchForBreakage(): void {
  window.addEventListener('unhandledrejection', (event) => reportBreakage(event.reason))
  window.addEventListener('error', (event) => {
    // Without an error object it is the browser's own remark, such as a resize loop, and nothing broke.
    if (event.error) reportBreakage(event.error)
  })
}

/** What a person copies when something broke: what, where, when, in plain text. */
export function breakageText(error: unknown, address: string, at: Date): string {
  const what = error instanceof Error ? (error.stack ?? `${error.name}: ${error.message}`) : String(error)
  return [`Turnsheet: something broke`, `Page: ${address}`, `Time: ${at.toISOString()}`, what].join('\n')
}
