import type { ReactNode } from 'react'
import { Button } from '../parts/button.tsx'
import { Form } from '../parts/form.tsx'
import { LeaveGuard } from '../parts/leaveGuard.tsx'
import type { ShownRefusal } from '../parts/refusal.ts'

/** The form of a section: its fields, one button to save them, and the question before they are lost. */
export function SettingsForm(props: {
  /** From `useDraft`: true once something differs from what is kept. */
  readonly touched: boolean
  readonly busy: boolean
  readonly refusal: ShownRefusal | undefined
  readonly label: string
  readonly onSave: () => void
  readonly children: ReactNode
}) {
  const { touched, busy } = props
  return (
    <>
      <Form onSubmit={props.onSave} refusal={props.refusal} label={props.label}>
        {props.children}
        <Button type="submit" kind="main" busy={busy} disabled={!touched && !busy}>
          Save
        </Button>
      </Form>
      {/* It asks in a form of its own, which cannot stand inside another. */}
      <LeaveGuard when={touched} />
    </>
  )
}
