import { useEffect } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { clock } from '../../main/trade/bench.ts'
import { holderWords } from '../../main/trade/benchHold.ts'
import { dayOf, minutesOfDay } from '../../main/trade/calendar.ts'
import { ButtonLink } from '../parts/button.tsx'
import { countText, numberText } from '../parts/format.ts'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import type { TakeRef } from './actKeep.ts'
import { benchDevice, thisDevice } from './benchDevice.ts'
import { sendWhatWasKept } from './benchQueue.ts'
import css from './runningTakes.module.css'

type RunningTake = Answers['takes']['running'][number]

/**
 * The takes that are running, each with the way back to it: whoever opens the program after a crash goes on
 * with one press. Sends what this device kept, and tells what it still keeps.
 */
export function RunningTakes() {
  const running = useAsk(['takes', 'running'], () => api.takes.running.query())
  const kept = useAsk(['takes', 'kept on this device'], keptTakes)
  useEffect(() => {
    void sendWhatWasKept()
  }, [])
  const takes = running.data ?? []
  const others = (kept.data ?? []).filter(({ takeId }) => !takes.some(({ id }) => id === takeId))
  if (takes.length === 0 && others.length === 0) return null
  return (
    <section className={css.takes} aria-label="At the bench now">
      {takes.map((take) => (
        <Line key={take.id} take={take} />
      ))}
      {others.map(({ takeId, title, acts }) => (
        <div key={takeId} className={css.take}>
          <p>{`This device keeps ${countText(acts, 'act')} of ${title} that ${acts === 1 ? 'is' : 'are'} not in the take.`}</p>
          <ButtonLink to={`/takes/${takeId}`}>Look at them</ButtonLink>
        </div>
      ))}
    </section>
  )
}

function Line({ take }: { readonly take: RunningTake }) {
  const { timeZone, today } = useStudio()
  const day = dayOf(take.since, timeZone)
  const who = holderWords({
    person: take.holderName,
    place: take.holderKey === thisDevice().key ? 'this device' : take.place,
    sinceClock: clock(minutesOfDay(take.since, timeZone)),
    sinceDay: day === today ? null : day,
    lastFrameMs: take.lastFrameAt === null ? null : Date.now() - Date.parse(take.lastFrameAt),
  })
  const isOurs = take.holderKey === null || take.holderKey === thisDevice().key
  return (
    <div className={css.take}>
      <p>
        <strong>
          {`Take ${take.number} of ${take.spin} is running${take.isPaused ? ', paused' : ''}, frame ${numberText(take.goodFrames)} of ${numberText(take.framesPerTurn)}.`}
        </strong>{' '}
        <span className={css.who}>{who}</span>
      </p>
      <ButtonLink to={`/takes/${take.id}`} kind={isOurs ? 'main' : 'plain'}>
        {isOurs ? 'Go on with it' : 'Watch it'}
      </ButtonLink>
    </div>
  )
}

interface KeptTake extends TakeRef {
  readonly title: string
  readonly acts: number
}

/** Takes of this studio of which this device keeps acts, with how many. */
async function keptTakes(): Promise<readonly KeptTake[]> {
  const acts = await benchDevice.keep.list().catch(() => [])
  const refs = new Map(acts.map(({ take }) => [take.startedAt, take]))
  const pages = await Promise.all(
    [...refs.values()].map(async (ref) => {
      const page = await api.takes.one.query({ takeId: ref.takeId }).catch(() => undefined)
      // A take of another studio that this device has opened may bear the same number.
      if (page?.take.startedAt !== ref.startedAt) return []
      const count = acts.filter(({ take }) => take.startedAt === ref.startedAt).length
      return [{ ...ref, title: `take ${page.take.number} of ${page.spin}`, acts: count }]
    }),
  )
  return pages.flat()
}
