import { useState } from 'react'
import { framePicturePath } from '../../main/trade/check/checkStatus.ts'
import type { Finding } from '../../main/trade/check/finding.ts'
import type { TakeReport } from '../../main/trade/check/report.ts'
import words from '../look/words.module.css'
import { countText, numberText } from '../parts/format.ts'
import type { TakePage } from '../takes/turningState.ts'
import type { Warning } from '../takes/turningWords.tsx'
import { type Answered, standingOf } from './answered.ts'
import css from './benchCheck.module.css'
import { BesideFrames } from './besideFrames.tsx'
import type { CheckOfTake } from './checkOfTake.ts'
import { MarkShape, readText, stripSentence, Traces } from './checkStrip.tsx'
import strip from './strip.module.css'
import { placedMarks } from './stripGeometry.ts'

/** How tall the strip and its sentence are under the ring, in px; the ring makes room for it from the start. */
export const benchCheckPx = 112

/** A finding is fresh, and warned of in words that are read from afar, for so many frames. */
const freshFrames = 10

/**
 * What waits for a person, faults before what is to be known alone; of each first what began last: what goes on from
 * earlier has been told already.
 */
function waitingFindings(report: TakeReport, answers: readonly Answered[]): readonly Finding[] {
  const beganAt = ({ frames: [first] }: Finding) => first ?? 0
  return (['open', 'known'] as const).flatMap((standing) =>
    report.findings
      .filter((finding) => standingOf(finding, answers) === standing)
      .sort((a, b) => beganAt(b) - beganAt(a)),
  )
}

/** What has just gone wrong, while turning back is still a few marks' work. */
export function freshWarning(check: CheckOfTake | undefined, shot: number): Warning | undefined {
  if (!check?.report) return undefined
  const fresh = waitingFindings(check.report, check.answers).find(
    ({ frames, fault }) => fault !== null && frames.some((frame) => frame > shot - freshFrames),
  )
  if (!fresh?.fault) return undefined
  return { far: fresh.fault, near: firstSentence(fresh.sentence), isLost: false }
}

/** What was found, without what to do about it: that stands where it is looked at. */
function firstSentence(text: string): string {
  return /^.+?[.](?=\s|$)/s.exec(text)?.[0] ?? text
}

/** True where a take is checked, so that the strip has its place under the ring. */
export function isChecked(check: CheckOfTake | undefined): boolean {
  return check !== undefined && check.status.state !== 'none'
}

/**
 * The check at the bench: three quiet traces under the ring with their marks, and one sentence, the newest. Pressed, it
 * opens the frame beside its neighbours over the bench, where the person says whether it is a fault.
 */
export function BenchCheck(props: {
  readonly page: TakePage
  readonly check: CheckOfTake
  /** The number that the last frame will have: the strip has room for those to come. */
  readonly frames: number
  /** Frames shot by now. */
  readonly shot: number
  readonly widthPx: number
}) {
  const { page, check, frames, widthPx } = props
  const { report, answers, status } = check
  const [opened, setOpened] = useState<Finding>()
  const [newest, ...more] = report ? waitingFindings(report, answers) : []
  const isKnown = newest?.fault === null
  return (
    <div className={css.check} style={{ width: widthPx, height: benchCheckPx }}>
      {report ? (
        <div className={strip.quiet} role="img" aria-label={stripSentence({ report, frames, answers })}>
          <QuietMarks {...{ report, answers, frames, widthPx }} />
          <Traces report={report} frames={frames} />
        </div>
      ) : (
        <div />
      )}
      <p className={words.spoken} role="status">
        {newest?.sentence}
      </p>
      {newest ? (
        <button
          type="button"
          className={isKnown ? `${css.newest} ${css.known}` : css.newest}
          onClick={(event) => {
            // So that the space bar means the next frame again.
            event.currentTarget.blur()
            setOpened(newest)
          }}
        >
          <MarkShape standing={isKnown ? 'known' : 'open'} />
          <span>
            {freshWarning(check, props.shot) ? lookText(newest) : firstSentence(newest.sentence)}
            {more.length > 0 ? (
              <span className={css.more}>{` And ${numberText(more.length)} more.`}</span>
            ) : null}
          </span>
        </button>
      ) : (
        <p className={css.nothing} role="status">
          {nothingText(check)}
        </p>
      )}
      {report && opened ? (
        <BesideFrames
          takeId={page.take.id}
          {...{ report, answers }}
          frame={opened.frames[0] ?? 1}
          findings={[opened]}
          addressOf={(frame, size) => framePicturePath(page.take.id, frame, size)}
          hasPictures={status.hasPictures}
          onClose={() => setOpened(undefined)}
        />
      ) : null}
    </div>
  )
}

/** Where the sentence itself stands large beside the ring. */
function lookText({ frames: [frame] }: Finding): string {
  return frame === undefined ? 'Look at what was found' : `Look at frame ${frame} beside its neighbours`
}

function QuietMarks(props: {
  readonly report: TakeReport
  readonly answers: readonly Answered[]
  readonly frames: number
  readonly widthPx: number
}) {
  const { report, answers, frames, widthPx } = props
  const shown = report.findings.filter((finding) => standingOf(finding, answers) !== 'none')
  return (
    <div className={css.marks}>
      {placedMarks(shown, frames, widthPx, 14).map(({ share, keys }) => {
        const here = shown.filter(({ key }) => keys.includes(key)).map((one) => standingOf(one, answers))
        const standing = (['open', 'fault', 'known'] as const).find((one) => here.includes(one))
        return (
          <span key={keys[0]} style={{ left: `${100 * share}%` }}>
            <MarkShape standing={standing ?? 'known'} />
          </span>
        )
      })}
    </div>
  )
}

function nothingText({ report, status }: CheckOfTake): string {
  // A long path would leave no room for what is wrong: it stands on the check's own page.
  if (status.state === 'gone') return 'The folder of the pictures cannot be read now.'
  if (status.sentence) return firstSentence(status.sentence)
  if (status.state === 'stopped') return `The check was stopped${report ? ` after ${readText(report)}` : ''}.`
  if (!report || report.framesRead === 0) return 'The pictures are checked as they arrive.'
  return `${countText(report.framesRead, 'picture')} checked, nothing to answer.`
}
