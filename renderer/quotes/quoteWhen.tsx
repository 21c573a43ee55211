import { useState } from 'react'
import { Link, useSearchParams } from 'react-router'
import type { Answers, Asks } from '../../main/api/types.ts'
import { useWhoTurns, WhoTurnsFields } from '../bench/whoTurns.tsx'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { DateField, SelectField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { countText, dayText, durationText, numberText, weekdayText } from '../parts/format.ts'
import { Columns, Empty, Part } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './quotes.module.css'

type Start = Answers['quotePlans']['start']
type State = Answers['quotePlans']['state']
type Done = Extract<State, { state: 'done' }>
type Answer = Done['beside']

/** By when the spins of a quote could be turned: beside what is booked, and with everything moved that may move. */
export function QuoteWhen({ jobId }: { readonly jobId: number }) {
  const [params, setParams] = useSearchParams()
  const quoteId = Number(params.get('quote')) || null
  const answerId = Number(params.get('answer')) || undefined
  const start = useAsk(['quotePlans', 'start', jobId, quoteId], () =>
    api.quotePlans.start.query({ jobId, quoteId }),
  )
  const show = (id: number) =>
    setParams((before) => {
      before.set('answer', String(id))
      return before
    })
  return (
    <Asked of={start}>
      {(data) => (
        <Columns aside>
          <div className={css.main}>
            {answerId === undefined ? (
              <Empty sentence="Say by which day the client wants it, and when the samples would come. Nothing is booked and nothing is stored." />
            ) : (
              <AnswerOf key={answerId} answerId={answerId} />
            )}
          </div>
          <AskWhen jobId={jobId} quoteId={quoteId} start={data} onAsked={show} />
        </Columns>
      )}
    </Asked>
  )
}

function AskWhen(props: {
  readonly jobId: number
  readonly quoteId: number | null
  readonly start: Start
  readonly onAsked: (answerId: number) => void
}) {
  const { jobId, quoteId, start } = props
  const { today } = useStudio()
  const who = useWhoTurns()
  const rigs = useAsk(['rigs', 'choices'], () => api.rigs.choices.query())
  const [byDay, setByDay] = useState(start.byDay)
  const [goodsDay, setGoodsDay] = useState(start.goodsDay)
  const [rig, setRig] = useState('own')
  const ask = useAct(
    (of: Asks['quotePlans']['ask']) => api.quotePlans.ask.mutate(of),
    ({ answerId }) => props.onAsked(answerId),
  )
  if (!who.isKnown) return null
  return (
    <Part
      title="By when?"
      acts={
        <ButtonLink to={`/jobs/${jobId}/quote${quoteId === null ? '' : `?quote=${quoteId}`}`}>
          Back to the quote
        </ButtonLink>
      }
    >
      <p>{`${countText(start.spins, 'spin')}, ${durationText(start.benchMs / 60_000)} at the bench by ${quoteId === null ? 'the brief' : 'this quote'}.`}</p>
      <Form
        refusal={ask.refusal}
        onSubmit={() =>
          ask.run({
            jobId,
            quoteId,
            byDay,
            goodsDay,
            rigRevisionId: rig === 'own' ? null : Number(rig),
            benchIds: [...who.benchIds],
            personIds: [...who.personIds],
          })
        }
      >
        <FieldLine>
          <DateField label="Wanted by" name="byDay" value={byDay} min={today} onChange={setByDay} />
          {start.withoutSample > 0 ? (
            <DateField
              label="Samples would be in on"
              name="goodsDay"
              hint="Turned from the day after."
              value={goodsDay}
              onChange={setGoodsDay}
            />
          ) : null}
        </FieldLine>
        {start.withoutRig > 0 ? (
          <SelectField
            label="Rig"
            name="rig"
            width="wide"
            hint={
              start.withoutRig === start.spins
                ? 'No rig is planned for them yet.'
                : `For the ${countText(start.withoutRig, 'spin')} that have none planned.`
            }
            value={rig}
            options={[
              { value: 'own', label: 'a rig of its own, built whole' },
              ...(rigs.data ?? []).map(({ rigRevisionId, name, revision }) => ({
                value: String(rigRevisionId),
                label: `${name}, revision ${revision}`,
              })),
            ]}
            onChange={setRig}
          />
        ) : null}
        <WhoTurnsFields of={who} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={ask.busy}>
            Find out
          </Button>
        </ButtonRow>
      </Form>
    </Part>
  )
}

function AnswerOf({ answerId }: { readonly answerId: number }) {
  const answer = useAsk(['quotePlans', 'state', answerId], () => api.quotePlans.state.query({ answerId }), {
    againWhile: ({ state }) => state === 'working',
  })
  const stop = useAct(() => api.quotePlans.stop.mutate({ answerId }))
  return (
    <Asked of={answer}>
      {(data) =>
        data.state === 'working' ? (
          <Part title="Looking for a place">
            <p role="status">{`${numberText(data.done)} of ${numberText(data.trials)} orders tried.`}</p>
            <progress value={data.done} max={data.trials} aria-label="Orders tried" />
            <ButtonRow>
              <Button onClick={() => stop.run()}>Take the best so far</Button>
            </ButtonRow>
          </Part>
        ) : (
          <Told done={data} />
        )
      }
    </Asked>
  )
}

function Told({ done }: { readonly done: Done }) {
  const { beside, moving } = done
  const isNoBetter =
    moving.doneDay === beside.doneDay && JSON.stringify(moving.later) === JSON.stringify(beside.later)
  return (
    <>
      <OneAnswer title="Beside what is booked" done={done} answer={beside} />
      {isNoBetter ? (
        <Part title="If everything that may move moves">
          <p>The same: the day and the jobs that would be late stay as they are, whatever is moved.</p>
        </Part>
      ) : (
        <OneAnswer title="If everything that may move moves" done={done} answer={moving} />
      )}
      {done.otherSpins > 0 ? (
        <p>
          {`${countText(done.otherSpins, 'more spin')} ${done.otherSpins === 1 ? 'waits' : 'wait'} for a place and ${done.otherSpins === 1 ? 'is' : 'are'} not counted in this answer: due later, or held up by a sample or an estimate. What of it is turned first makes the day later.`}
        </p>
      ) : null}
      <p className={words.quiet}>
        {`After the last turn some ${durationText(done.deskMs / 60_000)} at the desk follow. Worked out from estimates, beside ordered work that waits for a place${done.leftOut > 0 ? `; ${countText(done.leftOut, 'spin')} without an estimate or a day for its sample ${done.leftOut === 1 ? 'is' : 'are'} not counted` : ''}. Nothing is booked.`}
      </p>
    </>
  )
}

/** So many late jobs are named, the latest first. */
const mostNamed = 20

function OneAnswer(props: { readonly title: string; readonly done: Done; readonly answer: Answer }) {
  const { answer, done } = props
  const { today } = useStudio()
  const { later } = answer
  return (
    <Part title={props.title}>
      <p className={css.doneDay}>
        <Verdict answer={answer} byDay={done.byDay} />
      </p>
      <p>{costText(answer)}</p>
      {later.length === 0 ? (
        <p>No other job would be later for it.</p>
      ) : (
        <Table
          caption={`${props.title}: jobs that would be late because of it`}
          rows={later.slice(0, mostNamed)}
          keyOf={({ jobId }) => jobId}
          columns={[
            {
              key: 'job',
              head: 'Late because of it',
              cell: ({ jobId, jobNumber, client }) => (
                <>
                  <Link to={`/jobs/${jobId}/bench`}>{jobNumber}</Link>
                  {`, ${client}`}
                </>
              ),
            },
            { key: 'due', head: 'Due', figure: true, cell: ({ dueDay }) => dayText(dueDay, today) },
            {
              key: 'before',
              head: 'Without it',
              figure: true,
              cell: ({ daysLateBefore: days }) => (days <= 0 ? 'in time' : `${countText(days, 'day')} late`),
            },
            {
              key: 'after',
              head: 'With it',
              figure: true,
              cell: ({ daysLateAfter: days }) => (
                <span className={words.late}>
                  {days === null ? 'no place' : `${countText(days, 'day')} late`}
                </span>
              ),
            },
          ]}
          empty={null}
        />
      )}
      {later.length > mostNamed ? (
        <p
          className={words.quiet}
        >{`And ${countText(later.length - mostNamed, 'more job')}, less late than these.`}</p>
      ) : null}
    </Part>
  )
}

function Verdict({ answer, byDay }: { readonly answer: Answer; readonly byDay: string }) {
  const { today } = useStudio()
  const { doneDay, isByDay, daysLate, unplaced } = answer
  const wanted = weekdayText(byDay, today)
  if (doneDay === null) {
    return (
      <span className={words.late}>
        {unplaced > 0
          ? `No: ${countText(unplaced, 'spin')} found no place within 120 days.`
          : 'No answer: these spins have no estimate.'}
      </span>
    )
  }
  if (isByDay) return `Yes: the last spin is turned on ${weekdayText(doneDay, today)}, wanted by ${wanted}.`
  return (
    <span className={words.late}>
      {`No: the last spin is turned on ${weekdayText(doneDay, today)}, ${countText(daysLate, 'day')} after ${wanted}.`}
    </span>
  )
}

function costText({ addedChangeMin, movedSpins, isProved }: Answer): string {
  const changes =
    addedChangeMin > 0
      ? `It brings ${durationText(addedChangeMin)} of set changes.`
      : addedChangeMin < 0
        ? `Set changes take ${durationText(-addedChangeMin)} less with it.`
        : 'It brings no set change.'
  const moved = movedSpins > 0 ? ` ${countText(movedSpins, 'booked spin')} would move.` : ''
  return `${changes}${moved} ${isProved ? 'No better order exists: proved.' : 'The best order found.'}`
}
