import { useCallback, useEffect, useMemo, useState } from 'react'
import { framePicturePath } from '../../main/trade/check/checkStatus.ts'
import type { Finding } from '../../main/trade/check/finding.ts'
import type { TakeReport } from '../../main/trade/check/report.ts'
import { loopWithin, type PlayedLoop } from '../../main/trade/check/spinning.ts'
import { frameRates } from '../../main/trade/turn/frameRate.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink } from '../parts/button.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Page, Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { storeOf } from '../shell/store.ts'
import bench from '../takes/turning.module.css'
import type { TakePage } from '../takes/turningState.ts'
import { BesideFrames } from './besideFrames.tsx'
import { CentreOfSpin } from './centreChoice.tsx'
import { type CheckOfTake, useCheck } from './checkOfTake.ts'
import css from './checkPage.module.css'
import { CheckStanding } from './checkStanding.tsx'
import { byFrame, CheckStrip, loopOf, readText } from './checkStrip.tsx'
import { ContactSpin } from './contactSpin.tsx'
import { EdgeBandPart } from './edgeBand.tsx'
import { FiguresTable } from './figuresTable.tsx'
import { Findings } from './findings.tsx'
import type { AddressOf } from './framePictures.ts'
import { NoSpin } from './spinView.tsx'
import { SpinViewer } from './spinViewer.tsx'
import { Verdicts } from './verdicts.tsx'

/**
 * Everything the check has read of a take, and the take as it will be seen. While the product may still stand on the
 * platter it is as dark as the bench, because its light spills into the set.
 */
export function CheckPage({ takeId }: { readonly takeId: number }) {
  const page = useAsk(['takes', 'one', takeId], () => api.takes.one.query({ takeId }))
  return (
    <Asked of={page} isPage>
      {(data) =>
        data.take.verdict === null ? (
          <div className={bench.bench} data-light="bench">
            <div className={css.atBench}>
              <WholeCheck page={data} />
            </div>
          </div>
        ) : (
          <WholeCheck page={data} />
        )
      }
    </Asked>
  )
}

function WholeCheck({ page }: { readonly page: TakePage }) {
  const { take } = page
  const check = useCheck(take.id)
  return (
    <Page
      title={`Check of take ${take.number}`}
      windowTitle={`Check of take ${take.number}, ${page.spin}`}
      lead={[page.spin, page.rows > 1 ? `row ${take.row} of ${page.rows}` : undefined, take.rigName]
        .filter(Boolean)
        .join(', ')}
      acts={
        take.verdict === null ? (
          <ButtonLink to={`/takes/${take.id}`}>Back to the bench</ButtonLink>
        ) : (
          <ButtonLink to={`/jobs/${page.jobId}/takes?spin=${take.shootId}`}>
            {`Takes of ${page.jobNumber}`}
          </ButtonLink>
        )
      }
    >
      <Asked of={check}>{(data) => <Read page={page} check={data} />}</Asked>
    </Page>
  )
}

interface Opened {
  readonly frame: number
  readonly findings: readonly Finding[]
}

function Read({ page, check }: { readonly page: TakePage; readonly check: CheckOfTake }) {
  const { take } = page
  const { report, answers, status } = check
  const [opened, setOpened] = useState<Opened>()
  const [here] = useState(() => storeOf(1))
  const addressOf = useCallback<AddressOf>((frame, size) => framePicturePath(take.id, frame, size), [take.id])
  const open = (frame: number, findings: readonly Finding[]) => setOpened({ frame, findings })
  if (!report) return <CheckStanding take={take} check={check} />
  return (
    <>
      <CheckStanding take={take} check={check} />
      <CheckStrip
        report={report}
        frames={framesToCome(page, report)}
        loop={shownLoop(check, report)}
        answers={answers}
        here={here}
        onFrame={open}
      />
      <div className={css.columns}>
        <Part title="As it will be seen">
          {status.hasPictures ? (
            <Viewer
              page={page}
              check={check}
              report={report}
              here={here}
              onBeside={(frame) => open(frame, [])}
            />
          ) : (
            <WithoutPictures check={check} number={take.number} />
          )}
        </Part>
        <Part title="Found">
          <Findings
            takeId={take.id}
            findings={report.findings}
            answers={answers}
            none={noneText(report, status.state)}
            onFrame={open}
          />
          <Verdicts report={report} />
          <CentreOfSpin
            shootId={take.shootId}
            toldBy={report.centre.choice}
            isFollowed={status.hasPictures}
          />
        </Part>
      </div>
      <EdgeBandPart
        takeId={take.id}
        frames={report.frames.filter(({ problem }) => problem === null).map(({ frame }) => frame)}
        hasPictures={status.hasPictures}
      />
      <FiguresPart report={report} />
      {opened ? (
        <BesideFrames
          takeId={take.id}
          {...{ report, answers, addressOf }}
          {...opened}
          hasPictures={status.hasPictures}
          onClose={() => setOpened(undefined)}
        />
      ) : null}
    </>
  )
}

function Viewer(props: {
  readonly page: TakePage
  readonly check: CheckOfTake
  readonly report: TakeReport
  readonly here: ReturnType<typeof storeOf<number>>
  readonly onBeside: (frame: number) => void
}) {
  const { page, check, report } = props
  const takeId = page.take.id
  const say = useNotice()
  const choose = useAct(api.takeCheck.choosePlaying.mutate)
  useEffect(() => {
    if (choose.refusal) say(choose.refusal.sentence)
  }, [choose.refusal, say])
  const addressOf = useCallback<AddressOf>((frame, size) => framePicturePath(takeId, frame, size), [takeId])
  const there = useMemo(
    () => report.frames.filter(({ problem }) => problem === null).map(({ frame }) => frame),
    [report],
  )
  const lastFrame = Math.max(1, report.lastFrame)
  return (
    <SpinViewer
      here={props.here}
      onBeside={props.onBeside}
      onChoose={(playing) => choose.run({ takeId, ...playing })}
      spun={{
        label: `Take ${page.take.number} of ${page.spin}, to be turned`,
        lastFrame,
        there,
        addressOf,
        proposed: loopOf(report),
        playing: check.playing,
        rate: page.loopRate ?? frameRates['25'],
        isRateWanted: page.loopRate !== null,
        luminance: luminanceOf(report, lastFrame),
      }}
    />
  )
}

/** The loop that a person chose; else the one that is proposed. */
function shownLoop({ playing }: CheckOfTake, report: TakeReport): PlayedLoop {
  const { chosen } = playing
  const { leftOut } = report
  return loopWithin({ ...(chosen?.loop ?? loopOf(report)), leftOut }, Math.max(1, report.lastFrame))
}

/** How bright a white backdrop is in a finished frame: what can flash most. */
const brightest = 0.8

/** Mean luminance frame by frame, as bright as it can be, since the report holds it against its own median alone. */
function luminanceOf(report: TakeReport, frames: number): (number | null)[] {
  return byFrame(report, frames, ({ luminanceEv }) =>
    luminanceEv === null ? null : Math.min(1, brightest * 2 ** luminanceEv),
  )
}

function WithoutPictures({ check, number }: { readonly check: CheckOfTake; readonly number: number }) {
  const { strip } = check
  const why = withoutPicturesText(check)
  if (!strip) return <NoSpin why={why} />
  return (
    <>
      <p>{`${why} These are the small ones that the studio keeps.`}</p>
      <ContactSpin strip={strip} label={`Take ${number}`} direction={check.playing.direction} />
    </>
  )
}

/** Why there is nothing to turn: what is being read comes by itself, the rest waits for a person. */
function withoutPicturesText({ status, strip }: CheckOfTake): string {
  if (status.state === 'reading') return 'The first pictures are being read.'
  if (status.state === 'watching') return 'The first pictures have not arrived yet.'
  if (status.state === 'gone')
    return 'The folder of the pictures cannot be read now. They come by themselves once it is back.'
  return strip
    ? 'The frames themselves cannot be had now.'
    : 'The pictures cannot be had now. Read them again, from the folder they lie in.'
}

function FiguresPart({ report }: { readonly report: TakeReport }) {
  const [isOpen, setOpen] = useState(false)
  return (
    <Part
      title="Figures"
      acts={
        <Button aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
          {isOpen ? 'Fold the table' : 'Every frame as a table'}
        </Button>
      }
    >
      {isOpen ? <FiguresTable report={report} /> : null}
    </Part>
  )
}

/** The last frame that the strip has room for: as planned from the start, later by void frames and what is shot beyond. */
export function framesToCome({ take }: TakePage, { lastFrame, leftOut }: TakeReport): number {
  const planned = take.framesPerTurn + take.overlapFrames + leftOut.length
  return Math.max(lastFrame, take.endedAt === null ? planned : 1)
}

/** Nothing found is said of the frames that were read, and of no others. */
function noneText(report: TakeReport, state: string): string {
  if (report.framesRead === 0) return 'Nothing is read yet.'
  if (state === 'stopped' && report.framesRead < report.framesOfTake)
    return `Nothing was found in the ${readText(report)} that were read before the check was stopped.`
  return (state === 'done' || state === 'none') && report.framesRead >= report.framesOfTake
    ? 'Nothing was found.'
    : `Nothing was found so far, in ${readText(report)}.`
}
