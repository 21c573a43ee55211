import type { Answers } from '../../main/api/types.ts'
import type { Ghost } from '../parts/dayStrip.tsx'
import { labelOf } from './blockWords.ts'
import { blocksOf, type Moving } from './lifted.ts'

type Plan = Answers['benches']['plan']

/** What a lifted block draws over the strips, by `bench day`, and the blocks that would lie elsewhere. */
export function ghostsOf({ lifted, answer }: Moving, plan: Plan) {
  const ghosts = new Map<string, Ghost[]>()
  const leaving = new Set<number>()
  if (!lifted) return { ghosts, leaving }
  const add = (benchId: number, day: string, ghost: Ghost) =>
    ghosts.set(`${benchId} ${day}`, [...(ghosts.get(`${benchId} ${day}`) ?? []), ghost])
  const [moved, ...along] = answer.data?.blocks ?? []
  const known = !answer.stale && moved?.booking.id === lifted.bookingId ? moved.after : undefined
  const asked = {
    ...lifted,
    toMinute: lifted.fromMinute + lifted.minutes,
    setChangeMinutes: 0,
  }
  const { benchId, day, fromMinute, toMinute, setChangeMinutes } = known ?? asked
  add(benchId, day, {
    key: lifted.bookingId,
    label: lifted.label,
    fromMinute,
    toMinute,
    setChangeMinutes,
    kind: !answer.stale && answer.data?.refused ? 'refused' : 'held',
  })
  leaving.add(lifted.bookingId)
  for (const { booking, after } of along) {
    leaving.add(booking.id)
    add(after.benchId, after.day, {
      key: booking.id,
      label: labelOf(booking),
      fromMinute: after.fromMinute,
      toMinute: after.toMinute,
      setChangeMinutes: after.setChangeMinutes,
      kind: 'along',
    })
  }
  const starts = new Set(
    blocksOf(plan).flatMap(({ id, benchId: on, startsAt }) => (leaving.has(id) ? [`${on} ${startsAt}`] : [])),
  )
  for (const block of blocksOf(plan)) {
    if (block.kind === 'set change' && starts.has(`${block.benchId} ${block.endsAt}`)) leaving.add(block.id)
  }
  return { ghosts, leaving }
}
