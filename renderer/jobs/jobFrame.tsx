import { lazy, Suspense, useState } from 'react'
import { Link, Navigate, Route, Routes, useLocation, useParams } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { isLate } from '../../main/trade/standing.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { dayText, dueText, moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Page, Waiting } from '../parts/page.tsx'
import { PathLine } from '../parts/pathLine.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { useStudio } from '../shell/studio.ts'
import { CancelDialog, HoldDialog, LoseDialog } from './jobDialogs.tsx'
import { ChangeJob } from './jobForm.tsx'
import css from './jobs.module.css'
import { benchLeftText, priorityWords } from './jobWords.ts'
import { saveFile } from './saveFile.ts'
import { pageOfStation, stationPages } from './stationPages.tsx'

const QuoteWhen = lazy(async () => ({ default: (await import('../quotes/quoteWhen.tsx')).QuoteWhen }))

export type WholeJob = Answers['jobs']['one']

/** Round every page of a job: what it is, what it waits for, and the path with the count at each station. */
export function JobFrame() {
  const jobId = Number(useParams().jobId)
  const answer = useAsk(['jobs', 'one', jobId], () => api.jobs.one.query({ jobId }))
  return (
    <Asked of={answer} isPage>
      {(whole) => <Job key={jobId} whole={whole} />}
    </Asked>
  )
}

function Job({ whole }: { readonly whole: WholeJob }) {
  const { job, standing } = whole
  const { spread } = standing
  const counts: Readonly<Record<string, number>> = {
    samples: spread['samples in'],
    bench: spread.bench,
    takes: spread.takes,
    yes: spread.pick + spread.yes,
    delivery: spread.delivery,
  }
  return (
    <Page
      title={job.title}
      windowTitle={`${usePageWord()}, ${job.number} ${job.title}`}
      lead={<Lead whole={whole} />}
      acts={<Acts whole={whole} />}
    >
      <PathLine
        label={`Stations of job ${job.number}`}
        stations={stationPages.map(({ path, label }) => ({
          key: path,
          label,
          to: `/jobs/${job.id}/${path}`,
          ...(counts[path] === undefined ? {} : { count: counts[path] }),
        }))}
      />
      <Now whole={whole} />
      <Suspense fallback={<Waiting />}>
        <Routes>
          <Route index element={<Navigate replace to={pageOfStation(standing.station)} />} />
          {stationPages.map(({ path, Station }) => (
            <Route key={path} path={path} element={<Station jobId={job.id} />} />
          ))}
          <Route path="quote/when" element={<QuoteWhen jobId={job.id} />} />
          <Route path="change" element={<ChangeJob job={job} />} />
          <Route path="*" element={<NoSuchPage />} />
        </Routes>
      </Suspense>
    </Page>
  )
}

/** Which of the job's pages one is at. */
function usePageWord(): string {
  const at = useParams()['*']
  if (at === 'quote/when') return 'By when'
  return stationPages.find(({ path }) => path === at)?.label ?? (at === 'change' ? 'Change' : 'Job')
}

function Lead({ whole }: { readonly whole: WholeJob }) {
  const { today } = useStudio()
  const { job, standing, contact, quote } = whole
  const late = isLate(standing, today)
  return (
    <>
      {`${job.number} for `}
      <Link to={`/clients/${job.clientId}`}>{whole.clientName}</Link>
      {contact ? `, ${contact.name}` : ''}
      {job.orderNumber ? `, their order ${job.orderNumber}` : ''}
      {standing.dueDay ? (
        <>
          {', '}
          <span className={late ? words.late : undefined}>
            {late ? dueText(standing.dueDay, today) : `due ${dayText(standing.dueDay, today)}`}
          </span>
        </>
      ) : null}
      {job.promiseWorkingDays && !standing.dueDay
        ? `, promised ${job.promiseWorkingDays} working days after the last sample`
        : ''}
      {standing.valueMinor > 0
        ? `, ${moneyText(standing.valueMinor, job.currency)} before tax${quote?.state === 'accepted' ? '' : ' as quoted'}`
        : ''}
    </>
  )
}

/** The one sentence that says what is next, with the way to its page, or how the job ended. */
function Now({ whole: { job, standing } }: { readonly whole: WholeJob }) {
  const { today } = useStudio()
  const here = useLocation().pathname.split('/').at(-1)
  const next = stationPages.find(({ path }) => path === pageOfStation(standing.station))
  const left = benchLeftText(standing)
  return (
    <p className={css.now}>
      {job.lostAt ? `Lost: ${job.lostReason}. ` : null}
      {job.cancelledAt ? `Cancelled: ${job.cancelledReason}. ` : null}
      {job.holdUntil ? <b>{`On hold until ${dayText(job.holdUntil, today)}: ${job.holdReason}. `}</b> : null}
      {standing.isOpen ? `Waits for ${standing.waitsFor}.` : null}
      {standing.station === 'paid' && !standing.isOpen ? 'Paid. Nothing is left to do.' : null}
      {left && standing.isOpen ? ` ${left} at the bench left.` : null}
      {job.priority === 'normal' ? null : ` Priority: ${priorityWords[job.priority]}.`}
      {standing.isOpen && next && next.path !== here ? (
        <>
          {' '}
          <Link to={`/jobs/${job.id}/${next.path}`}>{`Go to\u00a0${next.label.toLowerCase()}`}</Link>
        </>
      ) : null}
    </p>
  )
}

type Open = 'hold' | 'lose' | 'cancel'

function Acts({ whole: { job, standing, quote } }: { readonly whole: WholeJob }) {
  const { today } = useStudio()
  const say = useNotice()
  const [open, setOpen] = useState<Open>()
  const status = useAct(
    () => api.jobs.statusCsv.query({ jobId: job.id }),
    ({ fileName, csv }) => {
      saveFile(fileName, csv, 'text/csv')
      say(`${fileName} is saved.`)
    },
  )
  const release = useAct(
    () => api.jobs.release.mutate({ jobId: job.id }),
    () => say(`${job.title} is no longer on hold.`),
  )
  const reopen = useAct(
    () => api.jobs.reopen.mutate({ jobId: job.id }),
    () => say(`${job.title} is on the board again.`),
  )
  const dialog = {
    job: { jobId: job.id, number: job.number, title: job.title },
    onClose: () => setOpen(undefined),
  }
  const hasEnded = job.lostAt !== null || job.cancelledAt !== null
  return (
    <>
      <ButtonRow>
        <Button busy={status.busy} onClick={() => status.run()}>
          Status as CSV
        </Button>
        <ButtonLink to={`/jobs/${job.id}/change`}>Change</ButtonLink>
        {hasEnded ? (
          <Button busy={reopen.busy} onClick={() => reopen.run()}>
            Take up again
          </Button>
        ) : null}
        {standing.isOpen && job.holdUntil === null ? (
          <Button onClick={() => setOpen('hold')}>Hold</Button>
        ) : null}
        {job.holdUntil === null ? null : (
          <Button busy={release.busy} onClick={() => release.run()}>
            Release
          </Button>
        )}
        {standing.isOpen && quote?.state !== 'accepted' ? (
          <Button kind="quiet" onClick={() => setOpen('lose')}>
            Lost
          </Button>
        ) : null}
        {hasEnded ? null : (
          <Button kind="quiet" onClick={() => setOpen('cancel')}>
            Cancel the job
          </Button>
        )}
      </ButtonRow>
      {open === 'hold' ? <HoldDialog {...dialog} today={today} /> : null}
      {open === 'lose' ? <LoseDialog {...dialog} currency={job.currency} /> : null}
      {open === 'cancel' ? <CancelDialog {...dialog} /> : null}
    </>
  )
}
