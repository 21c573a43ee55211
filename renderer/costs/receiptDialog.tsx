import { Dialog } from '../parts/dialog.tsx'
import { FileDrop } from '../parts/fileDrop.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { readBase64 } from '../parts/readBase64.ts'
import { api, useAct } from '../shell/api.ts'
import type { Cost } from './costWords.ts'

/** Keeps the receipt of a cost. */
export function ReceiptDialog({ cost, onClose }: { readonly cost: Cost; readonly onClose: () => void }) {
  const say = useNotice()
  const keep = useAct(
    async (file: File) =>
      api.jobCosts.receipt.mutate({ costId: cost.id, name: file.name, base64: await readBase64(file) }),
    () => {
      say(`The receipt of ${cost.text} is kept.`)
      onClose()
    },
  )
  return (
    <Dialog title={`The receipt of ${cost.text}`} onClose={onClose}>
      {cost.receipt ? <p>{`${cost.receipt.name} is kept with it; another takes its place.`}</p> : null}
      <FileDrop
        label="Drop the receipt here"
        hint="A PDF, or a photograph as JPEG, PNG or WebP, up to 20 MB. How long receipts must be kept, and whether a copy does, your accountant knows."
        accept="application/pdf,image/jpeg,image/png,image/webp"
        busy={keep.busy}
        onFile={keep.run}
      />
      {keep.refusal ? <FormRefusal sentence={keep.refusal.sentence} /> : null}
    </Dialog>
  )
}
