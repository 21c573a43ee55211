import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { clockText, countText, dayText, durationText, numberText, weekdayText } from '../parts/format.ts'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { FreeDialog } from './freeDialog.tsx'

type JobPromise = Answers['samples']['promise']

/** What the samples make of the job's promise, which are late, and which blocks lie before them. */
export function PromiseLines({ jobId }: { readonly jobId: number }) {
  const answer = useAsk(['samples', 'promise', jobId], () => api.samples.promise.query({ jobId }))
  const { today } = useStudio()
  const [isFreeing, setFreeing] = useState(false)
  if (!answer.data) return null
  const { workingDays, late, before } = answer.data
  return (
    <>
      {workingDays === null ? null : <p>{promiseText(answer.data, today)}</p>}
      {late.length > 0 ? (
        <p className={words.late}>
          {`Late: ${late
            .map(
              ({ code, expectedDay, daysLate }) =>
                `${code}, expected on ${dayText(expectedDay ?? today, today)}, ${countText(daysLate, 'day')} ago`,
            )
            .join('; ')}. Ask the client.`}
        </p>
      ) : null}
      {before.length > 0 ? (
        <>
          <p>
            {`${before.length === 1 ? 'This block lies' : 'These blocks lie'} before the goods; ${durationText(before.reduce((sum, { freedMin }) => sum + freedMin, 0))} at the bench would be free without them:`}
          </p>
          <ul>
            {before.map((block) => (
              <li key={block.bookingId}>
                <Link to={`/bench?day=${block.day}&booking=${block.bookingId}`}>
                  {`${weekdayText(block.day, today)}, ${clockText(block.fromMinute)}`}
                </Link>
                {`, ${block.bench}: ${countText(block.spins.length, 'spin')} without ${codesText(block)}`}
              </li>
            ))}
          </ul>
          <ButtonRow>
            <Button onClick={() => setFreeing(true)}>Take them off the bench and plan anew</Button>
            <Link to="/bench/freed">What could use the time</Link>
          </ButtonRow>
        </>
      ) : null}
      {isFreeing ? <FreeDialog blocks={before} onClose={() => setFreeing(false)} /> : null}
    </>
  )
}

/** The missing samples of a block: 'KN-01, KN-02 and 3 more'. */
export function codesText({ spins }: Pick<JobPromise['before'][number], 'spins'>): string {
  const codes = [...new Set(spins.flatMap((spin) => spin.codes))]
  const shown = codes.slice(0, 3).join(', ')
  return codes.length > 3 ? `${shown} and ${numberText(codes.length - 3)} more` : shown
}

function promiseText({ workingDays, promised }: JobPromise, today: string): string {
  const rule = `Promised ${countText(workingDays ?? 0, 'working day')} after the last needed sample`
  if (promised === null) {
    return `${rule}: no day can be said while a sample that is out has no expected day.`
  }
  return promised.isExpected
    ? `${rule}: due ${weekdayText(promised.day, today)}, if the samples come as expected.`
    : `${rule}: due ${weekdayText(promised.day, today)}.`
}
