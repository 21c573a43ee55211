import { type Day, instantAt } from '../../trade/calendar.ts'
import { framesToShoot } from '../../trade/turn/framesToShoot.ts'
import { demoZone, workingDaysAfter } from '../clock.ts'
import type { Story } from '../play.ts'
import type { Api, DemoProduct } from '../setUp.ts'
import { longestHandlingMinutes } from './handling.ts'
import type { BookedBlock, JobInHand, SpinInHand } from './stage.ts'

const setChangeMinutes = 25

/** Rigs are planned for the spins, and half days booked for them, each block on one rig. */
export async function* bookBench(job: JobInHand): Story {
  const { stage, plan } = job
  yield job.next('booked', '11:45')
  const { rows } = await stage.api.jobs.brief({ jobId: job.jobId })
  const toCome = job.twist('bench to come')
  const firstDay = toCome ? firstBenchDay(job, toCome.inDays) : workingDaysAfter(job.day, 1)
  const blocks: BookedBlock[] = []
  for (const [rig, spins] of byRig(job)) {
    await planRig(job, rig, spins, rows)
    blocks.push(...takeHalves(job, rig, spins, minutesPerSpin(rows, spins), firstDay))
  }
  job.blocks = blocks
  const { bookingIds } = await stage.api.bookings.add({
    blocks: blocks.map(({ half, spins }) => ({
      benchId: half.benchId,
      day: half.day,
      fromMinute: half.fromMinute,
      toMinute: Math.min(
        half.toMinute,
        half.fromMinute + setChangeMinutes + spins.length * minutesPerSpin(rows, spins),
      ),
      shootIds: spins.map(({ shootId }) => shootId),
      setChangeMinutes,
      personIds: [stage.personAt(half.benchId)],
      overruledReason: job.twist('samples partly in') ? 'The missing ones follow by courier.' : null,
    })),
  })
  if (!plan.told) return
  const days = [...new Set(blocks.map(({ half }) => half.day))]
  stage.telling.say(`Booked: ${bookingIds.length} blocks on ${days.join(', ')}.`)
  for (const { benchId, day } of new Map(
    blocks.map(({ half }) => [`${half.day} ${half.benchId}`, half]),
  ).values()) {
    stage.telling.paper((await stage.api.benches.printDaySheet({ benchId, day })).attachmentId)
  }
}

/** Frames at the studio's usual step, with handling and row changes. Common practice, no published source. */
function minutesPerSpin(rows: BriefRows, spins: readonly SpinInHand[]): number {
  return (
    Math.ceil(
      (framesToShoot(rows.map((row) => ({ frames: row.framesPerTurn, overlap: row.overlapFrames }))) * 6.4) /
        60,
    ) +
    Math.max(14, 4 + longestHandlingMinutes(spins.map(({ product }) => product))) +
    (rows.length - 1) * 10
  )
}

type BriefRows = Awaited<ReturnType<Api['jobs']['brief']>>['rows']

function firstBenchDay(job: JobInHand, inDays: number): Day {
  const { clock } = job.stage
  // Today counts as a bench day where it is worked.
  const yesterday = clock.day(-1)
  return workingDaysAfter(yesterday, inDays + 1)
}

function byRig(job: JobInHand): ReadonlyMap<string, readonly SpinInHand[]> {
  const groups = new Map<string, SpinInHand[]>()
  for (const spin of job.spins) {
    const rig = rigFor(job, spin.product)
    groups.set(rig, [...(groups.get(rig) ?? []), spin])
  }
  return groups
}

/** The rig of the product's size, or the great one where its platter must not carry so much. */
function rigFor({ stage }: JobInHand, { sizeClass, massG }: DemoProduct): string {
  const rig = stage.cast.rigs.get(sizeClass)
  return rig && massG <= rig.loadLimitG ? sizeClass : 'large'
}

async function planRig(
  { stage }: JobInHand,
  rig: string,
  spins: readonly SpinInHand[],
  rows: BriefRows,
): Promise<void> {
  const { rigRevisionId } = stage.cast.rigs.get(rig) ?? {}
  if (rigRevisionId === undefined) throw new Error(`The cast has no rig ${rig}.`)
  await stage.api.rigs.plan({
    shootIds: spins.map(({ shootId }) => shootId),
    rigRevisionId,
    settingsId: await stage.settings.of(
      rig,
      rows.map(({ viewAngleMdeg, ...row }) => ({ ...row, viewAngleDeg: viewAngleMdeg / 1000 })),
    ),
  })
}

/** Fills half days with the spins, from a day on. */
function takeHalves(
  { stage }: JobInHand,
  rig: string,
  spins: readonly SpinInHand[],
  minutes: number,
  firstDay: Day,
): BookedBlock[] {
  const blocks: BookedBlock[] = []
  const waiting = [...spins]
  for (let day = firstDay; waiting.length > 0; ) {
    const half = stage.diary.take(day, rig)
    if (!half) {
      day = workingDaysAfter(day, 1)
      continue
    }
    const fit = Math.max(1, Math.floor((half.toMinute - half.fromMinute - setChangeMinutes) / minutes))
    blocks.push({ half, setChangeMinutes, spins: waiting.splice(0, fit) })
  }
  return blocks
}

/** When the first spin of a block is put on the platter. */
export function turningFrom({ half, setChangeMinutes: change }: BookedBlock): Date {
  return instantAt(half.day, half.fromMinute + change, demoZone)
}
