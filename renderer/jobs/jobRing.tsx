import { isLate } from '../../main/trade/standing.ts'
import { Ring } from '../parts/ring.tsx'
import { spinsTurned, type WordedJob } from './jobWords.ts'

/** A job's small ring: a mark per spin, those turned as a band, red where the job is late. Text beside says all. */
export function JobRing(props: {
  readonly job: Pick<WordedJob, 'spins' | 'spread' | 'station' | 'dueDay'>
  readonly today: string
  readonly size?: number
}) {
  const { job, today } = props
  return (
    <Ring
      size={props.size ?? 30}
      framesPerTurn={Math.max(1, job.spins)}
      done={spinsTurned(job)}
      late={isLate(job, today)}
      label=""
    />
  )
}
