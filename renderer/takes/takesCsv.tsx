import { useRef, useState } from 'react'
import { saveFile } from '../jobs/saveFile.ts'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { DateField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'

/** Saves takes as CSV for other programs: of a job, or of all, within some days. */
export function TakesCsvButton({ jobId = null }: { readonly jobId?: number | null }) {
  const [isOpen, setOpen] = useState(false)
  return (
    <>
      <Button onClick={() => setOpen(true)}>Takes as CSV</Button>
      {isOpen ? <TakesCsvDialog jobId={jobId} onClose={() => setOpen(false)} /> : null}
    </>
  )
}

type Part = Awaited<ReturnType<typeof api.takeExport.csvPart.query>>

function TakesCsvDialog({ jobId, onClose }: { readonly jobId: number | null; readonly onClose: () => void }) {
  const say = useNotice()
  const [fromDay, setFromDay] = useState('')
  const [toDay, setToDay] = useState('')
  const [taken, setTaken] = useState(0)
  const isLeft = useRef(false)
  const save = useAct(
    async () => {
      const parts: string[] = []
      let count = 0
      let next: Part['next'] = null
      let part: Part
      do {
        part = await api.takeExport.csvPart.query({
          jobId,
          fromDay: fromDay || null,
          toDay: toDay || null,
          after: next,
        })
        parts.push(part.csv)
        count += part.takes
        next = part.next
        setTaken(count)
      } while (next && !isLeft.current)
      return { parts, count, fileName: part.fileName }
    },
    ({ parts, count, fileName }) => {
      if (isLeft.current) return
      if (count === 0) {
        say('No take has ended in these days, so there is no file to save.')
        return
      }
      saveFile(fileName, parts, 'text/csv')
      say(`${countText(count, 'take')} in ${fileName}.`)
      onClose()
    },
  )
  const leave = () => {
    isLeft.current = true
    onClose()
  }
  return (
    <Dialog title={jobId === null ? 'Takes as CSV' : 'Takes of the job as CSV'} onClose={leave}>
      <Form onSubmit={() => save.run()} refusal={save.refusal}>
        <FieldLine>
          <DateField
            label="From"
            hint="Empty: the first."
            name="fromDay"
            value={fromDay}
            onChange={setFromDay}
          />
          <DateField label="To" hint="Empty: the last." name="toDay" value={toDay} onChange={setToDay} />
        </FieldLine>
        <p className={words.quiet} role="status">
          {save.busy
            ? `${countText(taken, 'take')} read.`
            : 'A line for each take that has ended, with its times, frames, pace, faults and verdict.'}
        </p>
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            Save the file
          </Button>
          <Button onClick={leave}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
