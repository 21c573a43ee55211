import type { Answers } from '../../main/api/types.ts'
import { frameRateName } from '../../main/trade/turn/frameRate.ts'
import type { PlannerBasis } from './costView.ts'
import { typedOfRows } from './rowTexts.ts'
import { plainTyped, type Typed } from './typed.ts'

export type PlannerStart = Answers['planner']['start']
type Rig = Answers['rigs']['list']['lines'][number]['current']

/** What the plan is worked out from besides what is typed. */
export function plannerBasis({
  basis,
  sizeLimitsMm,
  rigSteps,
  job,
}: Omit<PlannerBasis, 'taxRateId'> & { readonly job: { readonly taxRateId: number } | null }): PlannerBasis {
  return { basis, sizeLimitsMm, rigSteps, taxRateId: job?.taxRateId ?? null }
}

/** Where the planner's fields start: the plain ones, with what the job asks for, its largest product and its rig. */
export function startingTyped({
  job,
  paper,
  benchPeople,
}: Pick<PlannerStart, 'job' | 'paper' | 'benchPeople'>): Typed {
  const own = { ...plainTyped, paper, people: String(benchPeople) }
  if (job === null) return own
  return {
    ...own,
    ...(job.rig ? typedOfRig(job.rig) : {}),
    ...typedOfBrief(job.brief),
    ...(job.largest
      ? {
          product: `${job.largest.code} ${job.largest.name}`,
          swept: textOf(job.largest.sweptMm),
          ...(job.largest.heightMm === null ? {} : { height: textOf(job.largest.heightMm) }),
        }
      : {}),
  }
}

function typedOfBrief(brief: NonNullable<PlannerStart['job']>['brief']): Partial<Typed> {
  const [row] = brief.rows
  const loop = brief.deliverables.find(({ kind }) => kind === 'loop')
  const set = brief.deliverables.find(({ kind }) => kind !== 'loop')
  const picture = loop ?? set
  return {
    ...typedOfRows(
      brief.rows.map(({ viewAngleDeg, ...turn }) => ({
        ...turn,
        viewAngleMdeg: Math.round(viewAngleDeg * 1000),
      })),
    ),
    ...(row ? { compareB: String(Math.max(2, Math.round(row.framesPerTurn / 2))) } : {}),
    ...(picture ? { pxW: String(picture.widthPx), pxH: String(picture.heightPx) } : {}),
    ...(set?.frames != null ? { set: String(set.frames) } : {}),
    ...(loop?.fpsNum != null && loop.fpsDen != null
      ? { rate: rateName(loop.fpsNum, loop.fpsDen, loop.dropFrame) }
      : {}),
    direction: brief.direction,
  }
}

/** A brief may ask for a rate that has no timecode of its own; the planner then counts at 25. */
function rateName(numerator: number, denominator: number, dropFrame: boolean): string {
  try {
    return frameRateName(numerator, denominator, dropFrame)
  } catch {
    return plainTyped.rate
  }
}

/** The fields that a rig fills: rim and division of its platter, sensor, lens, distance and how far it looks down. */
export function typedOfRig(rig: Rig): Partial<Typed> {
  const { sensorWidthMm, sensorHeightMm, sensorWidthPx, sensorHeightPx, widestCenti, smallestCenti } = rig
  return {
    rig: String(rig.rigId),
    rimBy: 'reading',
    rim: textOf(rig.rimMm),
    division: textOf(rig.divisionMm),
    focal: textOf(rig.focalMm),
    distance: textOf(rig.cameraDistanceMm),
    angle: textOf(rig.cameraTiltDeg),
    ...(widestCenti === null ? {} : { widest: textOf(widestCenti / 100) }),
    ...(smallestCenti === null ? {} : { smallest: textOf(smallestCenti / 100) }),
    ...(sensorWidthMm === null ? {} : { sensorW: textOf(sensorWidthMm) }),
    ...(sensorHeightMm === null ? {} : { sensorH: textOf(sensorHeightMm) }),
    ...(sensorWidthPx === null ? {} : { sensorPxW: String(sensorWidthPx) }),
    ...(sensorHeightPx === null ? {} : { sensorPxH: String(sensorHeightPx) }),
  }
}

/** A number as a person would type it, to a ten-thousandth at most. */
export function textOf(value: number): string {
  return String(Math.round(value * 1e4) / 1e4)
}
