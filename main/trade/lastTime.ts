import { formatDecimal } from './decimal.ts'
import { outageText } from './outage.ts'

/** What of a rig revision may be gone or changed by the time it is built again. Lengths in tenths of a micrometre. */
export interface RigThen {
  readonly rigName: string
  readonly isArchived: boolean
  readonly revision: number
  readonly newestRevision: number
  readonly rimUm10: number
  readonly platterName: string
  readonly platterRimUm10: number
  readonly platterIsGone: boolean
  readonly parts: readonly {
    readonly name: string
    readonly needed: number
    readonly count: number
    readonly isGone: boolean
    /** Where it is not here today. */
    readonly outage: {
      readonly kind: 'away' | 'repair'
      readonly toDay: string | null
      readonly reason: string | null
    } | null
  }[]
}

/** Sizes, mass and finish of a product at one time. */
export interface ProductThen {
  readonly code: string
  readonly finish: string
  readonly widthUm: number | null
  readonly depthUm: number | null
  readonly heightUm: number | null
  readonly sweptUm: number | null
  readonly massG: number | null
}

export interface RowThen {
  readonly framesPerTurn: number
  readonly overlapFrames: number
}

/** What keeps a rig from being built again as it stood, one sentence each; none where all of it is here as it was. */
export function rigCautionsSince(rig: RigThen): readonly string[] {
  const cautions: string[] = []
  if (rig.isArchived) cautions.push(`The rig ${rig.rigName} is archived.`)
  if (rig.newestRevision > rig.revision) {
    cautions.push(
      `Revision ${rig.newestRevision} of ${rig.rigName} stands now; revision ${rig.revision} was approved.`,
    )
  }
  if (rig.platterIsGone) cautions.push(`The platter ${rig.platterName} is out of use.`)
  else if (rig.platterRimUm10 !== rig.rimUm10) {
    cautions.push(
      `The tape of ${rig.platterName} reads ${mm(rig.platterRimUm10, 4)} now and read ${mm(rig.rimUm10, 4)} then: its marks are others.`,
    )
  }
  for (const { name, needed, count, isGone, outage } of rig.parts) {
    if (isGone) cautions.push(`'${name}' is out of use.`)
    else if (outage) cautions.push(outageText(name, outage))
    else if (needed > count) cautions.push(`The rig takes ${needed} of '${name}'; the studio has ${count}.`)
  }
  return cautions
}

/**
 * In what a product differs from the one that was approved, as it was then, one sentence each.
 * @param isSame  true for the same product at another time, false for another one of its family
 */
export function productChangesSince(then: ProductThen, now: ProductThen, isSame: boolean): readonly string[] {
  const [before, after] = isSame ? ['then', 'now'] : [`for ${then.code}`, `for ${now.code}`]
  const differs = (what: string, old: string | null, young: string | null) =>
    old === young ? [] : [`${what}: ${old ?? 'not known'} ${before}, ${young ?? 'not known'} ${after}.`]
  return [
    ...differs('Width', um(then.widthUm), um(now.widthUm)),
    ...differs('Depth', um(then.depthUm), um(now.depthUm)),
    ...differs('Height', um(then.heightUm), um(now.heightUm)),
    ...differs('Swept width as measured', um(then.sweptUm), um(now.sweptUm)),
    ...differs('Mass', grams(then.massG), grams(now.massG)),
    ...differs('Finish', then.finish, now.finish),
  ]
}

/** Where the frames asked for are not those that were dialled then: says both. */
export function framesChangedSince(then: readonly RowThen[], now: readonly RowThen[]): readonly string[] {
  const said = (rows: readonly RowThen[]) =>
    rows.map(({ framesPerTurn, overlapFrames }) => `${framesPerTurn} + ${overlapFrames}`).join(', ')
  if (then.length === 0 || said(then) === said(now)) return []
  return [`Frames: ${said(then)} then, ${said(now)} asked now.`]
}

function um(length: number | null): string | null {
  return length === null ? null : mm(length, 3)
}

function mm(length: number, places: number): string {
  return `${formatDecimal(length, places)}\u00a0mm`
}

function grams(massG: number | null): string | null {
  return massG === null ? null : `${formatDecimal(massG, 0)}\u00a0g`
}
