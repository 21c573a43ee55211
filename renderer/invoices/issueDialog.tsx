import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { PaperView } from '../parts/paperView.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { type InvoicePageData, kindWords } from './invoiceWords.ts'

/** Shows the paper as it will be and what stands against it, says that it never changes afterwards, and asks once. */
export function IssueDialog(props: { readonly data: InvoicePageData; readonly onClose: () => void }) {
  const { invoice } = props.data
  const kind = kindWords[invoice.kind].toLowerCase()
  const say = useNotice()
  const shown = useAsk(['invoices', 'asIssued', invoice.id], () =>
    api.invoices.asIssued.query({ invoiceId: invoice.id }),
  )
  const issue = useAct(
    () => api.invoices.issue.mutate({ invoiceId: invoice.id }),
    ({ number, paperId }) => {
      say(`${number} is issued.`)
      props.onClose()
      openPaper(paperId)
    },
  )
  return (
    <Dialog title={`Issue the ${kind}?`} wide onClose={props.onClose}>
      <Form onSubmit={issue.run} refusal={issue.refusal}>
        <Asked of={shown}>
          {({ sheet, number, refusal, lettersLacking }) => (
            <>
              <PaperView sheet={sheet} label={`The ${kind} as it will be`} />
              {lettersLacking.length > 0 ? (
                <FormRefusal
                  sentence={`The paper’s typeface lacks ${lettersLacking.join(' ')}. A ? is printed for each; write those words in other letters.`}
                />
              ) : null}
              {refusal === null ? (
                <p>
                  It will be {number}, the next of its series, and never changes afterwards. What is wrong
                  then is put right by a credit note.
                </p>
              ) : (
                <FormRefusal sentence={`It cannot be issued yet. ${refusal}`} />
              )}
              <ButtonRow>
                <Button type="submit" kind="main" busy={issue.busy} disabled={refusal !== null}>
                  Issue it
                </Button>
                <Button onClick={props.onClose}>Leave it a draft</Button>
              </ButtonRow>
            </>
          )}
        </Asked>
      </Form>
    </Dialog>
  )
}
