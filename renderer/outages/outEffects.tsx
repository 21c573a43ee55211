import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import type { BlockOnOtherRig } from '../../main/trade/blockRig.ts'
import { planAddress } from '../bench/planAddress.ts'
import words from '../look/words.module.css'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { clockText, countText, dayText, durationText, numberText, weekdayText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { OtherRigs } from './otherRigs.tsx'
import type { OutAsked } from './outAddress.ts'
import css from './outages.module.css'
import { type Move, WaitDialog } from './waitDialog.tsx'

type Effects = Answers['outages']['effects']
type Block = Effects['blocks'][number]
type Waiting = Effects['waiting'][number]
type Told = (blocks: readonly BlockOnOtherRig[]) => void

/** What an outage touches: booked blocks, then what waits, each with its two ways out. */
export function OutEffects(props: {
  readonly thing: NonNullable<OutAsked['thing']>
  readonly effects: Effects
  readonly onTold: Told
}) {
  const { effects } = props
  const [waiting, setWaiting] = useState<readonly Block[]>()
  const more = effects.blocksTouched - effects.blocks.length
  const withRoom = effects.blocks.filter(({ room }) => room !== null)
  return (
    <>
      <p>{summary(effects)}</p>
      <Note thing={props.thing} effects={effects} />
      <Part
        title="Booked then"
        acts={
          withRoom.length > 1 ? (
            <Button onClick={() => setWaiting(withRoom)}>
              {`Let these ${numberText(withRoom.length)} blocks wait`}
            </Button>
          ) : null
        }
      >
        {effects.blocks.length === 0 ? <p>No booked block falls into it.</p> : null}
        <ul className={css.works}>
          {effects.blocks.map((block) => (
            <li key={block.bookingId} className={css.work}>
              <BlockHead block={block} />
              <BlockWaits block={block} onWait={() => setWaiting([block])} />
              <OtherRigs work={block} onTold={props.onTold} />
            </li>
          ))}
        </ul>
        {more > 0 ? (
          <p>{`${countText(more, 'more block')} due later ${more === 1 ? 'falls' : 'fall'} into it. Settle these first, then ask again.`}</p>
        ) : null}
      </Part>
      <Part title="Waiting for a place on a rig with it">
        {effects.waiting.length === 0 ? <p>No spin that waits needs it.</p> : null}
        <ul className={css.works}>
          {effects.waiting.map((group) => (
            <li key={`${group.jobId} ${group.rigRevisionId ?? ''}`} className={css.work}>
              <WaitingHead group={group} firstDayBack={effects.firstDayBack} />
              <OtherRigs work={group} onTold={props.onTold} />
            </li>
          ))}
        </ul>
        {effects.moreWaiting ? <p>More waits than is listed; the earliest due is listed first.</p> : null}
      </Part>
      {waiting ? (
        <WaitDialog name={effects.name} moves={movesOf(waiting)} onClose={() => setWaiting(undefined)} />
      ) : null}
    </>
  )
}

function movesOf(blocks: readonly Block[]): readonly Move[] {
  return blocks.flatMap(({ bookingId, benchId, bench, jobNumber, room, daysLate }) =>
    room
      ? [{ bookingId, benchId, bench, jobNumber, day: room.day, fromMinute: room.fromMinute, daysLate }]
      : [],
  )
}

/** Of how many pieces, how much is touched, how much becomes late by waiting. */
function summary({
  name,
  count,
  blocks,
  blocksTouched,
  spinsTouched: booked,
  waiting,
  toDay,
}: Effects): string {
  const unbooked = waiting.reduce((sum, { spins }) => sum + spins, 0)
  const late = [...blocks, ...waiting]
    .filter(({ daysLate }) => daysLate > 0)
    .reduce((sum, { shootIds }) => sum + shootIds.length, 0)
  return [
    count > 1 ? `The studio has ${numberText(count)} of “${name}”; one of them is out.` : '',
    booked + unbooked === 0
      ? `Nothing that is booked or waits needs “${name}” on these days.`
      : `“${name}” is needed on these days by ${[
          booked > 0 && `${countText(booked, 'spin')} in ${countText(blocksTouched, 'booked block')}`,
          unbooked > 0 &&
            `${countText(unbooked, 'spin')} that ${unbooked === 1 ? 'has' : 'have'} no place yet`,
        ]
          .filter(Boolean)
          .join(' and by ')}.`,
    booked + unbooked === 0
      ? ''
      : toDay === null
        ? 'Nobody knows when it is back, so no day can be said for those that wait.'
        : late === 0
          ? 'None becomes late by waiting.'
          : `${blocksTouched > blocks.length ? 'Of those listed ' : ''}${countText(late, 'spin')} would be late by waiting.`,
  ]
    .filter(Boolean)
    .join(' ')
}

function Note({
  thing,
  effects,
}: {
  readonly thing: NonNullable<OutAsked['thing']>
  readonly effects: Effects
}) {
  const say = useNotice()
  const note = useAct(
    (kind: 'away' | 'repair') =>
      api.equipment.addOutage.mutate({
        equipmentId: thing.id,
        kind,
        fromDay: effects.fromDay,
        toDay: effects.toDay,
        reason: null,
      }),
    () => say(`Noted: ${effects.name} is not here then.`),
  )
  if (effects.isNoted) return <p className={words.quiet}>This is noted.</p>
  if (thing.kind === 'platter') {
    return (
      <p className={words.quiet}>
        A platter has no days away of its own: take it out of use under Platters if it stays away.
      </p>
    )
  }
  if (thing.kind === 'person') {
    return (
      <p className={words.quiet}>
        Only asked about. <Link to="/studio/people">Note the days under People</Link>, or let somebody else
        turn the block: open it.
      </p>
    )
  }
  return (
    <ButtonRow>
      <span className={words.quiet}>Only asked about, not noted yet.</span>
      <Button busy={note.busy} onClick={() => note.run('repair')}>
        Note it as in repair
      </Button>
      <Button busy={note.busy} onClick={() => note.run('away')}>
        Note it as away
      </Button>
    </ButtonRow>
  )
}

function BlockHead({ block }: { readonly block: Block }) {
  const { today } = useStudio()
  const { day, bookingId, names } = block
  const shown = names.slice(0, 6)
  return (
    <>
      <div className={css.head}>
        <span>
          <Link to={`/bench?day=${day}&booking=${bookingId}`}>
            {`${weekdayText(day, today)}, ${clockText(block.fromMinute)} to ${clockText(block.toMinute)}`}
          </Link>
          {`, ${block.bench}${block.rig ? `, ${block.rig}` : ''}${block.isFixed ? ', fixed' : ''}`}
        </span>
        <Job work={block} />
      </div>
      <p>
        {`${countText(names.length, 'spin')}: ${shown.join(', ')}${names.length > shown.length ? ` and ${numberText(names.length - shown.length)} more` : ''}`}
      </p>
    </>
  )
}

function Job({ work }: { readonly work: Block | Waiting }) {
  const { today } = useStudio()
  return (
    <span>
      <Link to={`/jobs/${work.jobId}/bench`}>{work.jobNumber}</Link>
      {` ${work.client}, ${work.dueDay ? `due ${dayText(work.dueDay, today)}` : 'no due day'}`}
    </span>
  )
}

function BlockWaits({ block, onWait }: { readonly block: Block; readonly onWait: () => void }) {
  const { today } = useStudio()
  const { room } = block
  return (
    <div className={css.acts}>
      <span>
        {room ? (
          <>
            {`If it waits, there is room on ${weekdayText(room.day, today)} at ${clockText(room.fromMinute)}: `}
            <Lateness days={block.daysLate} dueDay={block.dueDay} />
          </>
        ) : (
          'If it waits, no room can be said for it.'
        )}
      </span>
      {room ? (
        <Button aria-label={`Let the block of ${block.jobNumber} wait`} onClick={onWait}>
          Let it wait
        </Button>
      ) : (
        <ButtonLink to={`/bench?day=${block.day}&booking=${block.bookingId}`}>Open the block</ButtonLink>
      )}
    </div>
  )
}

function Lateness({ days, dueDay }: { readonly days: number; readonly dueDay: string | null }) {
  if (days > 0) return <span className={words.late}>{`${countText(days, 'day')} late.`}</span>
  return dueDay === null ? 'nothing is due.' : 'in time.'
}

function WaitingHead({
  group,
  firstDayBack,
}: {
  readonly group: Waiting
  readonly firstDayBack: string | null
}) {
  const { today } = useStudio()
  return (
    <>
      <div className={css.head}>
        <span>
          {`${countText(group.spins, 'spin')}, ${group.estimateMs > 0 ? durationText(group.estimateMs / 60_000) : 'no estimate'}, ${group.rig ?? 'no rig'}`}
        </span>
        <Job work={group} />
      </div>
      <div className={css.acts}>
        <span>
          {firstDayBack === null ? (
            'If they wait, no day can be said.'
          ) : (
            <>
              {`If they wait, they are turned on ${weekdayText(firstDayBack, today)} at the earliest: `}
              <Lateness days={group.daysLate} dueDay={group.dueDay} />
            </>
          )}
        </span>
        <ButtonLink to={planAddress({ shootIds: [...group.shootIds] })}>Plan them</ButtonLink>
      </div>
    </>
  )
}
