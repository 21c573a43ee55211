import { useState } from 'react'
import { Button, ButtonRow } from '../parts/button.tsx'
import { TextField } from '../parts/field.tsx'
import { FormRefusal } from '../parts/form.tsx'
import type { ShownRefusal } from '../parts/refusal.ts'

/**
 * What speaks against a block, where it was asked for, and the way to go on all the same with a reason. A
 * refusal that no reason overrules is left to the form and its fields.
 */
export function Overruling(props: {
  readonly refusal: ShownRefusal | undefined
  readonly act: string
  readonly busy: boolean
  readonly onOverrule: (reason: string) => void
}) {
  const [reason, setReason] = useState('')
  const [isMissing, setMissing] = useState(false)
  if (!props.refusal?.canOverrule) return null
  return (
    <>
      <FormRefusal sentence={props.refusal.sentence} />
      <TextField
        label="Book it all the same, because"
        width="wide"
        hint="The reason is kept with the block and in the job’s history."
        value={reason}
        onChange={setReason}
        refusal={isMissing && !reason.trim() ? 'The reason is empty. Type it in.' : undefined}
      />
      <ButtonRow>
        <Button
          busy={props.busy}
          onClick={() => (reason.trim() ? props.onOverrule(reason.trim()) : setMissing(true))}
        >
          {props.act}
        </Button>
      </ButtonRow>
    </>
  )
}
