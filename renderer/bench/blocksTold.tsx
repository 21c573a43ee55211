import { Link } from 'react-router'
import { type BlockOnOtherRig, blockRigSentences } from '../../main/trade/blockRig.ts'
import { clockText, weekdayText } from '../parts/format.ts'
import { useStudio } from '../shell/studio.ts'

/** What became of booked blocks whose spins were planned on another rig: what a person may want to put right. */
export function BlocksTold({ blocks }: { readonly blocks: readonly BlockOnOtherRig[] }) {
  const { today } = useStudio()
  const told = blocks.flatMap((block) =>
    blockRigSentences(block, dayAndClock(today)).map((sentence) => ({ day: block.day, sentence })),
  )
  if (told.length === 0) return null
  return (
    <ul role="status">
      {told.map(({ day, sentence }) => (
        <li key={sentence}>
          {`${sentence} `}
          <Link to={`/bench?day=${day}`}>See the bench</Link>
        </li>
      ))}
    </ul>
  )
}

/** Writes a day and a minute of it: `Tue 3 Mar, 09:00`. */
export function dayAndClock(today: string): (day: string, minute: number) => string {
  return (day, minute) => `${weekdayText(day, today)}, ${clockText(minute)}`
}
