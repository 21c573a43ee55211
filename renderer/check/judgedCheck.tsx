import { Link } from 'react-router'
import words from '../look/words.module.css'
import { countText, numberText } from '../parts/format.ts'
import turning from '../takes/turning.module.css'
import type { TakePage } from '../takes/turningState.ts'
import { standingOf } from './answered.ts'
import { type CheckOfTake, useCheck } from './checkOfTake.ts'
import { framesToCome } from './checkPage.tsx'
import { readText, stripSentence, Traces } from './checkStrip.tsx'
import { OneFinding } from './findings.tsx'
import css from './judged.module.css'
import strip from './strip.module.css'

/** Findings that a verdict can be given beside; more of them are looked at on the check's own page. */
const mostBeside = 2

/** What the check says of a take that waits for its verdict, and the way to its pictures. */
export function JudgedCheck({ page }: { readonly page: TakePage }) {
  const check = useCheck(page.take.id)
  if (!check.data) return null
  return (
    <div className={css.judged}>
      <Link className={turning.button} to={`/takes/${page.take.id}/check`}>
        {check.data.report ? 'Turn it and look at every frame' : 'Check its pictures'}
      </Link>
      <Told page={page} check={check.data} />
    </div>
  )
}

function Told({ page, check }: { readonly page: TakePage; readonly check: CheckOfTake }) {
  const { report, answers, status } = check
  if (!report) return null
  const open = report.findings.filter((finding) => standingOf(finding, answers) === 'open')
  const known = report.findings.filter((finding) => standingOf(finding, answers) === 'known')
  return (
    <>
      <div
        className={strip.quiet}
        role="img"
        aria-label={stripSentence({ report, answers, frames: framesToCome(page, report) })}
      >
        <Traces report={report} frames={framesToCome(page, report)} />
      </div>
      <p role="status">
        {status.state === 'reading'
          ? `Checking the pictures: ${status.framesRead} of ${countText(status.framesFound, 'frame')}.`
          : open.length === 0
            ? `The check of the pictures has nothing to ask in ${readText(report)}.`
            : `The check asks about ${countText(open.length, 'thing')}.`}
      </p>
      {open.slice(0, mostBeside).map((finding) => (
        <OneFinding key={finding.key} takeId={page.take.id} finding={finding} answers={answers} />
      ))}
      {known[0] ? (
        <p className={words.quiet}>
          {`To be known: ${known[0].sentence}${known.length > 1 ? ` And ${numberText(known.length - 1)} more, on the check’s own page.` : ''}`}
        </p>
      ) : null}
    </>
  )
}
