import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { planAddress } from '../bench/planAddress.ts'
import words from '../look/words.module.css'
import css from '../outages/outages.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink } from '../parts/button.tsx'
import { clockText, countText, dayText, durationText, weekdayText } from '../parts/format.ts'
import { Empty, Page } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { FreeDialog } from './freeDialog.tsx'
import { codesText } from './promiseLines.tsx'

type Freed = Answers['samples']['freed'][number]

const daysAhead = 7

/** Blocks of the next days that lie before their goods, the hours they free, and what waits that could use them. */
export function FreedPage() {
  const answer = useAsk(['samples', 'freed', daysAhead], () => api.samples.freed.query({ days: daysAhead }))
  const [freeing, setFreeing] = useState<Freed>()
  return (
    <Page
      title="Blocks before their goods"
      lead="Booked in the next seven days, though a sample will not be in by then; and what waits with its goods in and could use the time."
      acts={<ButtonLink to="/bench">Back to the bench</ButtonLink>}
    >
      <Asked of={answer}>
        {(blocks) =>
          blocks.length === 0 ? (
            <Empty sentence="No block of the next seven days lies before its goods." />
          ) : (
            <>
              <p>
                {`${durationText(blocks.reduce((sum, { freedMin }) => sum + freedMin, 0))} at the bench would be free in ${countText(blocks.length, 'block')}.`}
              </p>
              <ul className={css.works}>
                {blocks.map((block) => (
                  <FreedBlock key={block.bookingId} block={block} onFree={() => setFreeing(block)} />
                ))}
              </ul>
            </>
          )
        }
      </Asked>
      {freeing ? <FreeDialog blocks={[freeing]} onClose={() => setFreeing(undefined)} /> : null}
    </Page>
  )
}

function FreedBlock({ block, onFree }: { readonly block: Freed; readonly onFree: () => void }) {
  const { today } = useStudio()
  return (
    <li className={css.work}>
      <div className={css.head}>
        <span>
          <Link to={`/bench?day=${block.day}&booking=${block.bookingId}`}>
            {`${weekdayText(block.day, today)}, ${clockText(block.fromMinute)} to ${clockText(block.toMinute)}`}
          </Link>
          {`, ${block.bench}${block.rig ? `, ${block.rig}` : ''}`}
        </span>
        <span>
          <Link to={`/jobs/${block.jobId}/samples`}>{block.jobNumber}</Link>
          {` ${block.client}`}
        </span>
      </div>
      <div className={css.acts}>
        <span>
          {`${countText(block.spins.length, 'spin')} without ${codesText(block)}: ${durationText(block.freedMin)} would be free.`}
        </span>
        <Button aria-label={`Free the block of ${block.jobNumber}`} onClick={onFree}>
          Free it
        </Button>
      </div>
      {block.fitting.length === 0 ? (
        <p className={words.quiet}>Nothing that waits with its goods in fits there.</p>
      ) : (
        <ul className={css.rigs}>
          {block.fitting.map((work) => (
            <li key={`${work.jobId} ${work.rig ?? ''}`} className={css.acts}>
              <span>
                {`${countText(work.fits, 'spin')} of `}
                <Link to={`/jobs/${work.jobId}/bench`}>{work.jobNumber}</Link>
                {` ${work.client}, ${work.rig ?? 'no rig planned'}${work.changeMin > 0 ? `, set change ${durationText(work.changeMin)}` : ''}, ${work.dueDay ? `due ${dayText(work.dueDay, today)}` : 'no due day'}`}
              </span>
              <ButtonLink to={planAddress({ shootIds: work.shootIds.slice(0, work.fits) })}>
                {`Plan ${countText(work.fits, 'spin')}`}
              </ButtonLink>
            </li>
          ))}
        </ul>
      )}
    </li>
  )
}
