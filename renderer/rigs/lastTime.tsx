import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { blockRigSentences } from '../../main/trade/blockRig.ts'
import { dayAndClock } from '../bench/blocksTold.tsx'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './lastTime.module.css'
import { SpinPicture } from './spinPicture.tsx'
import { useDayOf } from './whatWorked.tsx'

type LastTimeOf = NonNullable<Answers['lastTime']['ofSpin']>
type SpinLastTime = Answers['lastTime']['ofJob'][number]

/**
 * 'Same as last time' for one spin: the approved take it is to match, what has changed since, one press. Nothing
 * where nothing like it was approved.
 */
export function LastTimeOfSpin(props: {
  readonly shootId: number
  readonly onPlanned: (planned: { readonly rigRevisionId: number; readonly settingsId: number }) => void
}) {
  const { shootId } = props
  const answer = useAsk(['lastTime', 'ofSpin', shootId], () => api.lastTime.ofSpin.query({ shootId }))
  const plan = useAct(
    (_: LastTimeOf) => api.lastTime.plan.mutate({ shootIds: [shootId] }),
    (_, lastTime) => props.onPlanned(lastTime),
  )
  const lastTime = answer.data
  if (!lastTime) return null
  return (
    <section className={css.one} aria-label="Same as last time">
      <SpinPicture of={lastTime} />
      <div className={css.told}>
        <Told lastTime={lastTime} />
        {plan.refusal ? <FormRefusal sentence={plan.refusal.sentence} /> : null}
        {lastTime.overLoad === null ? (
          <ButtonRow>
            <Button busy={plan.busy} onClick={() => plan.run(lastTime)}>
              Same as last time
            </Button>
          </ButtonRow>
        ) : null}
      </div>
    </section>
  )
}

function Told({ lastTime }: { readonly lastTime: LastTimeOf }) {
  const dayOf = useDayOf()
  const { rigId, revision, newestRevision, rigRevisionId, newestRevisionId } = lastTime
  return (
    <>
      <p>
        {lastTime.from === 'product'
          ? 'Last time: '
          : `Nothing of this product yet; the first of its family, ${lastTime.code}: `}
        <Link to={`/jobs/${lastTime.jobId}/takes`}>{`${lastTime.spin}, ${lastTime.jobNumber}`}</Link>
        {`, take ${lastTime.takeNumber}, approved on ${dayOf(lastTime.answeredAt)}. ${lastTime.rigName}, revision ${revision}${lastTime.startPose ? `; start pose: ${lastTime.startPose}` : ''}.`}
      </p>
      <Cautions cautions={lastTime.cautions} />
      {newestRevision > revision ? (
        <p>
          <Link
            to={`/rigs/compare?before=${rigRevisionId}&after=${newestRevisionId}`}
          >{`What differs from revision ${revision} to ${newestRevision}`}</Link>
          {' · '}
          <Link to={`/rigs/${rigId}?revision=${revision}`}>{`See revision ${revision}`}</Link>
        </p>
      ) : null}
      {lastTime.overLoad !== null ? <FormRefusal sentence={lastTime.overLoad} /> : null}
    </>
  )
}

function Cautions({ cautions }: { readonly cautions: readonly string[] }) {
  if (cautions.length === 0) return <p className={words.quiet}>All of it is here as it was.</p>
  return (
    <ul className={css.cautions} aria-label="Changed since">
      {cautions.map((caution) => (
        <li key={caution}>{caution}</li>
      ))}
    </ul>
  )
}

/** The same for many spins of a job at once, with every caution once and whom it is about. */
export function LastTimeOfSpins(props: {
  readonly jobId: number
  readonly shootIds: readonly number[]
  readonly whom: string
}) {
  const { jobId, shootIds } = props
  const { today } = useStudio()
  const say = useNotice()
  const answer = useAsk(['lastTime', 'ofJob', jobId], () => api.lastTime.ofJob.query({ jobId }))
  const plan = useAct(
    () => api.lastTime.plan.mutate({ shootIds: [...shootIds] }),
    ({ planned, without, tooHeavy, blocks }) =>
      say(
        [
          `${countText(planned, 'spin')} planned as last time.`,
          without.length > 0 ? `Nothing like it approved yet: ${without.join(', ')}.` : '',
          ...tooHeavy,
          ...blocks.flatMap((block) => blockRigSentences(block, dayAndClock(today))),
        ]
          .filter(Boolean)
          .join(' '),
      ),
  )
  const spins = (answer.data ?? []).filter(({ shootId }) => shootIds.includes(shootId))
  const known = spins.filter(({ lastTime }) => lastTime !== null)
  if (known.length === 0) return null
  return (
    <section className={css.many} aria-label="Same as last time">
      <ButtonRow>
        <Button busy={plan.busy} onClick={() => plan.run()}>
          {`Same as last time for ${props.whom}`}
        </Button>
        <span className={words.quiet}>
          {known.length === spins.length
            ? `${known.length === 1 ? 'It was' : `All ${known.length} were`} approved before, or one of the family was.`
            : `${known.length} of ${countText(spins.length, 'spin')} were approved before, or one of the family was.`}
        </span>
      </ButtonRow>
      {plan.refusal ? <FormRefusal sentence={plan.refusal.sentence} /> : null}
      <details>
        <summary>{summaryOf(known)}</summary>
        <ul className={css.spins}>
          {known.map(({ shootId, name, lastTime }) =>
            lastTime ? (
              <li key={shootId}>
                <SpinPicture of={lastTime} />
                <div className={css.told}>
                  <strong>{name}</strong>
                  <Told lastTime={lastTime} />
                </div>
              </li>
            ) : null,
          )}
        </ul>
      </details>
    </section>
  )
}

function summaryOf(spins: readonly SpinLastTime[]): string {
  const changed = spins.filter(({ lastTime }) => lastTime?.cautions.length || lastTime?.overLoad).length
  if (changed === 0) return 'All of it is here as it was'
  return `${changed} of ${countText(spins.length, 'spin')} with something gone or changed since`
}
