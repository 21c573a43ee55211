import { useState } from 'react'
import { saveFile } from '../jobs/saveFile.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { countText, numberText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Page, Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { useStudio } from '../shell/studio.ts'
import css from './invoices.module.css'
import { PeriodFields } from './periodFields.tsx'
import { commonPeriods, type Period } from './periods.ts'

/** What an accountant needs of a period: two lists and all papers. */
export function AccountantPage() {
  const { today } = useStudio()
  const [period, setPeriod] = useState(commonPeriods(today)[1]?.[1] ?? { fromDay: today, toDay: today })
  const isWhole = period.fromDay !== '' && period.toDay >= period.fromDay
  const sums = useAsk(['accountant', 'period', period], () => api.accountant.period.query(period), {
    when: isWhole,
  })
  return (
    <Page
      title="For the accountant"
      lead="What was issued and paid in a period. What of it is taxed how and when differs by country: your accountant decides."
    >
      <PeriodFields period={period} today={today} onChange={setPeriod} />
      {isWhole ? (
        <Asked of={sums}>
          {({ documents, withoutPaper }) => (
            <>
              <p role="status">
                {`${countText(documents, 'document')} issued in these days${withoutPaper > 0 ? `, ${numberText(withoutPaper)} of them without a written paper yet` : ''}.`}
              </p>
              <Lists period={period} />
              <Papers key={`${period.fromDay} ${period.toDay}`} period={period} />
            </>
          )}
        </Asked>
      ) : (
        <FormRefusal sentence="The last day is before the first. Enter that day or a later one." />
      )}
    </Page>
  )
}

function Lists({ period }: { readonly period: Period }) {
  const say = useNotice()
  const journal = useAct(async () => {
    const parts: string[] = []
    let part = await api.accountant.journalPart.query(period)
    parts.push(part.csv)
    while (part.next) {
      part = await api.accountant.journalPart.query({ ...period, after: part.next })
      parts.push(part.csv)
    }
    saveFile(part.fileName, parts, 'text/csv')
    say(`${part.fileName} is saved.`)
  })
  const payments = useAct(async () => {
    const parts: string[] = []
    let part = await api.accountant.paymentsPart.query(period)
    parts.push(part.csv)
    while (part.next) {
      part = await api.accountant.paymentsPart.query({ ...period, after: part.next })
      parts.push(part.csv)
    }
    saveFile(part.fileName, parts, 'text/csv')
    say(`${part.fileName} is saved.`)
  })
  return (
    <Part title="Lists">
      <p className={css.note}>
        The sales journal has a row for each document and rate of tax. Credit notes are less than 0; a deposit
        that a later invoice deducts is taken off there, so that its tax counts once. The payments stand in a
        list of their own, by the day they came.
      </p>
      <ButtonRow>
        <Button busy={journal.busy} onClick={() => journal.run()}>
          Sales journal as CSV
        </Button>
        <Button busy={payments.busy} onClick={() => payments.run()}>
          Payments as CSV
        </Button>
      </ButtonRow>
    </Part>
  )
}

function Papers({ period }: { readonly period: Period }) {
  const [zipId, setZipId] = useState<number>()
  const start = useAct(
    () => api.accountant.startZip.mutate(period),
    (begun) => setZipId(begun.zipId),
  )
  return (
    <Part title="All papers in one file">
      <p className={css.note}>
        Every issued paper as PDF, the electronic invoices that were made, both lists, and a manifest with the
        number, name, size and SHA-256 of each. Papers that were not written yet are written first. The file
        is kept in the studio.
      </p>
      {zipId === undefined ? (
        <>
          {start.refusal ? <FormRefusal sentence={start.refusal.sentence} /> : null}
          <ButtonRow>
            <Button kind="main" busy={start.busy} onClick={() => start.run()}>
              Make the ZIP file
            </Button>
          </ButtonRow>
        </>
      ) : (
        <Making zipId={zipId} onAgain={() => setZipId(undefined)} />
      )}
    </Part>
  )
}

function Making({ zipId, onAgain }: { readonly zipId: number; readonly onAgain: () => void }) {
  const state = useAsk(['accountant', 'zipState', zipId], () => api.accountant.zipState.query({ zipId }), {
    againWhile: ({ state }) => state === 'working',
  })
  const stop = useAct(() => api.accountant.stopZip.mutate({ zipId }))
  if (state.refusal) return <FormRefusal sentence={state.refusal.sentence} />
  if (!state.data) return <p aria-busy="true">Beginning</p>
  if (state.data.state === 'working') {
    const { step, done, of } = state.data
    return (
      <>
        <p role="status">
          {step === 'papers'
            ? `${numberText(done)} of ${countText(of, 'paper')} looked for or written.`
            : `${numberText(done)} of ${countText(of, 'file')} in the archive.`}
        </p>
        <progress value={done} max={Math.max(1, of)} aria-label="How far the file is" />
        <ButtonRow>
          <Button busy={stop.busy} onClick={() => stop.run()}>
            Stop
          </Button>
        </ButtonRow>
      </>
    )
  }
  const { attachmentId } = state.data
  return (
    <>
      <p role="status">
        {attachmentId === null ? 'It was stopped; nothing was kept.' : 'The file is ready.'}
      </p>
      <ButtonRow>
        {attachmentId === null ? null : (
          <Button kind="main" onClick={() => openPaper(attachmentId)}>
            Open the ZIP file
          </Button>
        )}
        <Button onClick={onAgain}>Make another</Button>
      </ButtonRow>
    </>
  )
}
