import type { Answers } from '../../main/api/types.ts'
import { leanText } from '../../main/trade/check/outline/horizonWords.ts'
import { matchWords } from '../../main/trade/check/turn/match.ts'
import { ButtonLink } from '../parts/button.tsx'
import { numberText, percentText, withUnit } from '../parts/format.ts'
import { Empty } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import type { AidProps, AidStand } from './aidPage.tsx'
import css from './aids.module.css'
import { Ghost } from './ghost.tsx'
import { NewestFrame } from './newestFrame.tsx'
import { useNewestFrame, WatchedFolder } from './watchedFolder.tsx'

/** The newest frame against the approved one of last time or of the family: what differs, what to move, by how much. */
export function MatchAid(props: AidProps & { readonly about: AidStand }) {
  const { lastTime } = props.about
  if (lastTime === null) {
    return (
      <Empty sentence="Nothing of this product or its family was approved yet, so there is nothing to match." />
    )
  }
  return lastTime.pictureSha256 === null ? (
    <Empty
      sentence={`${takeText(lastTime)} was approved, but no picture of its frame 1 was kept. Keep one on its page, from the files that were delivered.`}
      act={<ButtonLink to={`/jobs/${lastTime.jobId}/takes`}>{`Takes of ${lastTime.jobNumber}`}</ButtonLink>}
    />
  ) : (
    <Matching {...props} lastTime={lastTime} pictureSha256={lastTime.pictureSha256} />
  )
}

type LastTime = NonNullable<AidStand['lastTime']>

function Matching(
  props: AidProps & {
    readonly about: AidStand
    readonly lastTime: LastTime
    readonly pictureSha256: string
  },
) {
  const { folder, lastTime } = props
  const newest = useNewestFrame(folder)
  const { key = null, stamp } = newest.data?.newest ?? {}
  const asked = {
    folder: folder ?? '',
    key,
    takeId: lastTime.takeId,
    longSideMm: props.about.longSideMm,
  }
  const match = useAsk(['checkAids', 'match', asked, stamp], () => api.checkAids.match.query(asked), {
    when: folder !== undefined && newest.data !== undefined,
  })
  const found = match.data
  return (
    <div className={css.two}>
      <Ghost
        newest={found?.pictureUrl ? { url: found.pictureUrl, word: 'the newest frame' } : undefined}
        ghost={{ url: `/files/${props.pictureSha256}`, word: 'the approved frame' }}
      />
      <div className={css.side}>
        <WatchedFolder folder={folder} offered={props.offered} onChange={props.onFolder} />
        <p className={css.quiet}>
          {`${lastTime.from === 'product' ? 'Approved' : 'The first approved of its family'}: ${takeText(lastTime)}.${lastTime.startPose ? ` Start pose: ${lastTime.startPose}.` : ''}`}
        </p>
        {folder === undefined ? null : (
          <NewestFrame
            answer={match}
            waiting="Turn to the start mark, put the product in its start pose, and shoot one frame."
          >
            {({ match: told, doubt }) => (told === null ? <p>{doubt}</p> : <Differences match={told} />)}
          </NewestFrame>
        )}
      </div>
    </div>
  )
}

type Match = NonNullable<Answers['checkAids']['match']['match']>

/** What to do, the first thing first; the figures under it. */
function Differences({ match }: { readonly match: Match }) {
  const { exposureEv, scale, rightPart, belowPart, lean, pose, sentences } = match
  const part = (value: number, [more, less]: readonly [string, string]) =>
    `${percentText(Math.abs(value), 1)} ${value > 0 ? more : less}`
  return (
    <>
      <div role="status">
        <p className={css.verdict}>{matchWords(match)}</p>
        <ol className={css.todo}>
          {sentences.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ol>
      </div>
      <dl className={css.differences}>
        <Figure of="Exposure" value={exposureEv} text={(ev) => withUnit(ev, 'EV')} />
        <Figure of="Size" value={scale} text={(times) => percentText(times, 1)} />
        <Figure of="Place" value={rightPart} text={(by) => part(by, ['to the right', 'to the left'])} />
        <Figure of="Foot" value={belowPart} text={(by) => part(by, ['lower', 'higher'])} />
        <Figure of="Horizon" value={lean?.leanDeg ?? null} text={(leanDeg) => leanText({ leanDeg })} />
        <Figure of="Start pose" value={pose?.aheadDeg ?? null} text={degreesText} />
      </dl>
      <p className={css.quiet}>
        The pose is told to some 3°, from the contact strip of the approved take, and the horizon where the
        outlines fit; see by the ghost that both are right. Shares are of the picture’s width.
      </p>
    </>
  )
}

/** `6° on in the turn`, as the approved take turned. */
function degreesText(deg: number): string {
  const whole = Math.round(Math.abs(deg))
  return whole === 0
    ? 'as approved'
    : `${numberText(whole)}° ${deg > 0 ? 'further on' : 'further back'} in the turn`
}

function Figure(props: {
  readonly of: string
  readonly value: number | null
  readonly text: (value: number) => string
}) {
  return (
    <div>
      <dt>{props.of}</dt>
      <dd>{props.value === null ? 'cannot be told' : props.text(props.value)}</dd>
    </div>
  )
}

function takeText({ spin, jobNumber, takeNumber }: LastTime): string {
  return `${spin}, ${jobNumber}, take ${takeNumber}`
}
