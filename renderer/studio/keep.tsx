import { Button } from '../parts/button.tsx'
import { LeaveGuard } from '../parts/leave-guard.tsx'

/** The foot of a section's form: its one button, and the question before what was typed is lost. */
export function Keep(props: { readonly touched: boolean; readonly busy: boolean }) {
  return (
    <>
      <Button type="submit" kind="main" busy={props.busy} disabled={!props.touched && !props.busy}>
        Save
      </Button>
      <LeaveGuard when={props.touched} />
    </>
  )
}
