import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { EstimateBasis } from '../jobs/estimateBasis.tsx'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { countText, dayIn, dayText, dueText, durationText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { BookSpinsDialog } from './bookSpinsDialog.tsx'
import { planAddress } from './planAddress.ts'
import css from './waitingSpins.module.css'

export type WaitingGroup = Answers['benches']['waiting']['groups'][number]

const groupsPerPage = 20

/** Spins that have no place on a bench yet, by job and rig, the earliest due first. */
export function WaitingSpins(props: {
  /** Where a proposal starts looking. */
  readonly fromDay: string
  readonly jobId?: number
}) {
  const { jobId = null } = props
  const [page, setPage] = useState(0)
  const [open, setOpen] = useState<WaitingGroup>()
  const [chosen, setChosen] = useState<ReadonlyMap<string, WaitingGroup>>(new Map())
  const ask = { jobId, page: { offset: page * groupsPerPage, limit: groupsPerPage } }
  const answer = useAsk(['benches', 'waiting', ask], () => api.benches.waiting.query(ask))
  return (
    <Part title="Waiting for a place">
      <Asked of={answer}>
        {({ groups, more }) => (
          <>
            {groups.length === 0 ? (
              <p>
                {jobId === null
                  ? 'No spin waits. Spins come here once their job is ordered.'
                  : 'No spin of this job waits for a place.'}
              </p>
            ) : null}
            {groups.length > 0 ? <PlanThese jobId={jobId} chosen={[...chosen.values()]} /> : null}
            <ul className={css.groups}>
              {groups.map((group) => (
                <Group
                  key={keyOf(group)}
                  isOneJob={jobId !== null}
                  group={group}
                  isChosen={chosen.has(keyOf(group))}
                  onChoose={() => setChosen(flipped(chosen, group))}
                  onBook={() => setOpen(group)}
                />
              ))}
            </ul>
            {groups.length > 0 ? <EstimateBasis /> : null}
            {more || page > 0 ? (
              <ButtonRow>
                <Button disabled={page === 0} onClick={() => setPage(page - 1)}>
                  Back
                </Button>
                <Button disabled={!more} onClick={() => setPage(page + 1)}>
                  Further
                </Button>
              </ButtonRow>
            ) : null}
          </>
        )}
      </Asked>
      {open ? (
        <BookSpinsDialog group={open} fromDay={props.fromDay} onClose={() => setOpen(undefined)} />
      ) : null}
    </Part>
  )
}

function keyOf({ jobId, rigRevisionId }: WaitingGroup): string {
  return `${jobId} ${rigRevisionId ?? ''}`
}

function flipped(
  chosen: ReadonlyMap<string, WaitingGroup>,
  group: WaitingGroup,
): ReadonlyMap<string, WaitingGroup> {
  const after = new Map(chosen)
  if (!after.delete(keyOf(group))) after.set(keyOf(group), group)
  return after
}

/** The way to a plan of what is ticked, or of all of it. */
function PlanThese(props: { readonly jobId: number | null; readonly chosen: readonly WaitingGroup[] }) {
  const { jobId, chosen } = props
  const shootIds = chosen.flatMap((group) => group.shootIds)
  return (
    <ButtonRow>
      {chosen.length > 0 ? (
        <ButtonLink to={planAddress({ shootIds })}>
          {`Plan the ${countText(shootIds.length, 'chosen spin')}`}
        </ButtonLink>
      ) : (
        <ButtonLink to={planAddress(jobId === null ? {} : { jobId })}>
          {jobId === null ? 'Plan everything that waits' : 'Plan what waits of this job'}
        </ButtonLink>
      )}
    </ButtonRow>
  )
}

function Group(props: {
  readonly group: WaitingGroup
  readonly isChosen: boolean
  readonly onChoose: () => void
  /** On the job's own page its number and title are said already. */
  readonly isOneJob: boolean
  readonly onBook: () => void
}) {
  const { group } = props
  const { today, timeZone } = useStudio()
  const isLate = group.dueDay !== null && group.dueDay < today
  const name = `${group.number}, ${group.rig ?? 'no rig planned'}`
  return (
    <li className={css.group}>
      <input
        type="checkbox"
        className={css.choice}
        aria-label={`Choose ${name}`}
        checked={props.isChosen}
        onChange={props.onChoose}
      />
      {props.isOneJob ? null : (
        <>
          <div>
            <Link to={`/jobs/${group.jobId}/bench`}>{group.number}</Link>
            {` ${group.client}`}
          </div>
          <div className={words.quiet}>{group.title}</div>
        </>
      )}
      <div>
        {`${countText(group.spins, 'spin')}, ${group.estimateMs > 0 ? durationText(group.estimateMs / 60_000) : 'no estimate'}, `}
        {group.rig ?? 'no rig planned'}
      </div>
      <div className={css.foot}>
        <span>
          {group.dueDay ? (
            <span className={isLate ? words.late : undefined}>{dueText(group.dueDay, today)}</span>
          ) : (
            'no due day'
          )}
          {group.holdUntil ? `, on hold until ${dayText(group.holdUntil, today)}` : ''}
          {group.passedAt === null
            ? ''
            : `, ${passedWords(group)} on ${dayText(dayIn(timeZone, new Date(group.passedAt)), today)} passed without a take`}
          {group.withoutSample > 0 ? `, ${countText(group.withoutSample, 'sample')} not in` : ''}
        </span>
        <Button aria-label={`Book ${name}`} onClick={props.onBook}>
          Book
        </Button>
      </div>
    </li>
  )
}

function passedWords({ spins, passed }: WaitingGroup): string {
  if (spins === 1) return 'its block'
  return passed === spins ? 'their block' : `the block of ${passed} of them`
}
