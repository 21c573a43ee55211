import { useEffect } from 'react'
import { useBlocker } from 'react-router'
import { Confirm } from './dialog.tsx'

/** Put this on a navigation that follows a save: `navigate('/jobs/12', { state: saved })`. */
export const saved = { saved: true } as const

/**
 * Keeps what was typed from being lost by going elsewhere: asks first while `when` is true. A window that is
 * closed asks in the browser's own words.
 * @param props.when  usually `draft.touched`
 */
export function LeaveGuard(props: { readonly when: boolean }) {
  const { when } = props
  const blocker = useBlocker(({ currentLocation, nextLocation }) => {
    const isAfterSave = (nextLocation.state as { readonly saved?: boolean } | null)?.saved === true
    return when && !isAfterSave && currentLocation.pathname !== nextLocation.pathname
  })
  useEffect(() => {
    if (!when) return
    const ask = (event: BeforeUnloadEvent) => event.preventDefault()
    window.addEventListener('beforeunload', ask)
    return () => window.removeEventListener('beforeunload', ask)
  }, [when])
  if (blocker.state !== 'blocked') return null
  return (
    <Confirm
      title="Leave without saving?"
      sentence="What you typed on this page has not been saved. It is lost when you leave."
      act="Leave without saving"
      onConfirm={() => blocker.proceed()}
      onClose={() => blocker.reset()}
    />
  )
}
