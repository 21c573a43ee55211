import { type KeyboardEvent as KeyPress, useEffect, useRef } from 'react'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { CheckField } from '../parts/field.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { clockText, countText, durationText, weekdayText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { useStudio } from '../shell/studio.ts'
import { labelOf } from './blockWords.ts'
import { type Lifted, type MoveEffect, type Moving, steppedBy } from './lifted.ts'
import css from './movePanel.module.css'
import { Overruling } from './overruling.tsx'

/** So many blocks that move along, and jobs, are named; of the others the count is said. */
const named = 5

/** The block in the hand and what letting it go would do; with nothing in the hand, how to take one. */
export function MovePanel(props: {
  readonly moving: Moving
  readonly benches: readonly { readonly benchId: number; readonly name: string }[]
}) {
  const { moving } = props
  const { lifted } = moving
  useEscape(moving)
  return (
    <Part title={lifted ? 'Moving a block' : 'Move a block'}>
      <div className={css.panel}>
        {lifted ? <InHand {...props} lifted={lifted} /> : <HowTo />}
        <CheckField
          label="Close up the place it leaves"
          checked={moving.closesUp}
          onChange={moving.setClosesUp}
        />
      </div>
    </Part>
  )
}

function useEscape({ lifted, leave }: Moving): void {
  const isLifted = lifted !== undefined
  const latest = useRef(leave)
  useEffect(() => {
    latest.current = leave
  })
  useEffect(() => {
    if (!isLifted) return
    const onKey = (event: KeyboardEvent) => {
      if (event.key === 'Escape') latest.current()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [isLifted])
}

/** What the keys move; a screen reader hands it the arrows. */
function Grip({ moving, benches, lifted }: Held) {
  const { today } = useStudio()
  const grip = useRef<HTMLDivElement>(null)
  const isByKeys = lifted.by === 'keys'
  useEffect(() => {
    if (isByKeys) grip.current?.focus()
  }, [isByKeys])
  const bench = benches.find(({ benchId }) => benchId === lifted.benchId)?.name ?? ''
  const onKeyDown = (event: KeyPress) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return
    const benchIds = benches.map(({ benchId }) => benchId)
    const to = steppedBy(event, lifted, benchIds)
    if (to) moving.moveTo(to)
    else if (event.key === 'Enter') moving.letGo()
    else if (event.key.toLowerCase() === 'c') moving.setClosesUp(!moving.closesUp)
    else return
    event.preventDefault()
  }
  return (
    <div
      ref={grip}
      className={css.grip}
      role="application"
      tabIndex={isByKeys ? 0 : -1}
      aria-label={`Moving ${lifted.label}`}
      onKeyDown={onKeyDown}
    >
      <strong>{lifted.label}</strong>
      <span>{`to ${bench}, ${weekdayText(lifted.day, today)}, ${clockText(lifted.fromMinute)}`}</span>
    </div>
  )
}

function HowTo() {
  return (
    <p className={words.quiet}>
      Drag a block to another time, day or bench, or onto another block to take its place. By keys: M takes
      the chosen block up, Enter opens it; Alt with left and right moves it at once by 15 minutes, Alt with up
      and down by a day.
    </p>
  )
}

interface Held {
  readonly moving: Moving
  readonly benches: readonly { readonly benchId: number; readonly name: string }[]
  readonly lifted: Lifted
}

function InHand(props: Held) {
  const { moving, lifted } = props
  const { answer } = moving
  const effect = answer.data
  const objections = effect?.objections.map(({ sentence }) => sentence).join(' ') ?? ''
  return (
    <>
      <Grip {...props} />
      <div className={css.effect} role="status" data-stale={answer.stale ? 'true' : undefined}>
        {effect ? <Effect effect={effect} isDown={lifted.isDown} /> : <p>Working out what it does.</p>}
      </div>
      {moving.refusal ? <FormRefusal sentence={moving.refusal.sentence} /> : null}
      {lifted.isDown && effect && !effect.refused && objections && !answer.stale ? (
        <Overruling
          refusal={{ code: '', sentence: objections, field: undefined, canOverrule: true }}
          act="Move it all the same"
          busy={moving.busy}
          onOverrule={moving.overrule}
        />
      ) : null}
      {lifted.by === 'keys' || lifted.isDown ? (
        <ButtonRow>
          {effect?.refused || (lifted.isDown && objections) ? null : (
            <Button busy={moving.busy} onClick={moving.letGo}>
              Put it down here
            </Button>
          )}
          <Button onClick={moving.leave}>Leave it where it was</Button>
        </ButtonRow>
      ) : null}
      <p className={words.quiet}>
        {lifted.by === 'pointer'
          ? 'With Shift it goes by 5 minutes. Escape leaves it where it was.'
          : 'Left and right: 15 minutes, with Shift 5. Up and down: days. Page Up and Page Down: benches. C: close up. Enter puts it down, Escape leaves it.'}
      </p>
    </>
  )
}

function Effect({ effect, isDown }: { readonly effect: MoveEffect; readonly isDown: boolean }) {
  const { today } = useStudio()
  if (effect.refused) return <p className={css.against}>{effect.refused.sentence}</p>
  const [moved, ...along] = effect.blocks
  const { before, after } = effect.setChangeMinutes
  return (
    <>
      {moved ? (
        <p>{`It would lie ${placeText(moved.after, today)}${moved.after.setChangeMinutes > 0 ? `, set change ${durationText(moved.after.setChangeMinutes)} of it` : ''}.`}</p>
      ) : null}
      {isDown
        ? null
        : effect.objections.map(({ sentence }) => (
            <p key={sentence} className={css.against}>{`${sentence} It takes a reason.`}</p>
          ))}
      {effect.jobs.length > 0 ? (
        <ul className={css.list} aria-label="Due days">
          {effect.jobs.slice(0, named).map((job) => (
            <li key={job.jobId} className={job.lateDaysAfter > job.lateDaysBefore ? words.late : undefined}>
              {`${job.number}, ${job.client}: ${lateText(job)}`}
            </li>
          ))}
          <More count={effect.jobs.length - named} what="more job" />
        </ul>
      ) : (
        <p>No job is late or early by it.</p>
      )}
      {along.length > 0 ? (
        <>
          <p>{`${countText(along.length, 'other block')} ${along.length === 1 ? 'moves' : 'move'} along:`}</p>
          <ul className={css.list} aria-label="Blocks that move along">
            {along.slice(0, named).map(({ booking, before: from, after: to }) => (
              <li key={booking.id}>
                {`${labelOf(booking)}: ${clockText(from.fromMinute)} to ${clockText(from.toMinute)} becomes ${
                  from.day === to.day && from.benchId === to.benchId
                    ? `${clockText(to.fromMinute)} to ${clockText(to.toMinute)}`
                    : placeText(to, today)
                }`}
              </li>
            ))}
            <More count={along.length - named} what="more block" />
          </ul>
        </>
      ) : (
        <p>No other block moves.</p>
      )}
      <p>{changeText(before, after)}</p>
    </>
  )
}

function More({ count, what }: { readonly count: number; readonly what: string }) {
  return count > 0 ? <li>{`and ${countText(count, what)}`}</li> : null
}

type Place = MoveEffect['blocks'][number]['after']

function placeText({ bench, day, fromMinute, toMinute }: Place, today: string): string {
  return `${weekdayText(day, today)}, ${bench}, ${clockText(fromMinute)} to ${clockText(toMinute)}`
}

function lateText({ lateDaysBefore, lateDaysAfter }: MoveEffect['jobs'][number]): string {
  const days = (count: number) => countText(count, 'day')
  if (lateDaysAfter === 0) return `no longer late (it was by ${days(lateDaysBefore)})`
  if (lateDaysBefore === 0) return `becomes late by ${days(lateDaysAfter)}`
  return `late by ${days(lateDaysAfter)} instead of ${days(lateDaysBefore)}`
}

function changeText(before: number, after: number): string {
  if (before === after) return 'As much set change as before.'
  const by = durationText(Math.abs(after - before))
  return `Set change ${after < before ? `${by} less` : `${by} more`}: ${durationText(before)} becomes ${durationText(after)}.`
}
