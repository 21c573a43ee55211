import { useState } from 'react'
import { Asked } from '../parts/asked.tsx'
import { Button } from '../parts/button.tsx'
import { instantText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './jobs.module.css'

const entriesAtOnce = 50

/** What happened in a job: who did what, and when. */
export function JobHistory({ jobId }: { readonly jobId: number }) {
  /** Each stretch begins before an entry; the first at the newest. */
  const [stretches, setStretches] = useState<readonly (number | null)[]>([null])
  return (
    <Part title="History">
      {stretches.map((before, index) => (
        <Stretch
          key={before}
          jobId={jobId}
          before={before}
          onEarlier={index === stretches.length - 1 ? (id) => setStretches([...stretches, id]) : undefined}
        />
      ))}
    </Part>
  )
}

function Stretch(props: {
  readonly jobId: number
  readonly before: number | null
  readonly onEarlier: ((before: number) => void) | undefined
}) {
  const { timeZone } = useStudio()
  const ask = { jobId: props.jobId, before: props.before, limit: entriesAtOnce }
  const answer = useAsk(['jobs', 'history', ask], () => api.jobs.history.query(ask))
  return (
    <Asked of={answer}>
      {(entries) => {
        const last = entries.at(-1)
        return (
          <>
            <ol className={css.entries}>
              {entries.map((entry) => (
                <li key={entry.id} className={css.entry}>
                  <time className={css.at} dateTime={entry.at}>
                    {instantText(entry.at, timeZone)}
                  </time>
                  <span>{entry.sentence}</span>
                  <span className={css.who}>{entry.person}</span>
                </li>
              ))}
            </ol>
            {props.onEarlier && last && entries.length === entriesAtOnce ? (
              <div>
                <Button onClick={() => props.onEarlier?.(last.id)}>Earlier</Button>
              </div>
            ) : null}
          </>
        )
      }}
    </Asked>
  )
}
