import { type AnglesView, anglesView } from './anglesView.ts'
import { type CardsView, cardsView } from './cardsView.ts'
import { type CostView, costView, type PlannerBasis } from './costView.ts'
import { type ExposureView, exposureView } from './exposureView.ts'
import { type LoopView, loopView, rateOf } from './loopView.ts'
import { type PictureView, pictureView } from './pictureView.ts'
import { type PrintsView, printsView } from './printsView.ts'
import type { Outcome, Refusals } from './reading.ts'
import { type SetsView, setsView } from './setsView.ts'
import { type SharpView, sharpView } from './sharpView.ts'
import { type SmoothView, smoothView } from './smoothView.ts'
import { type TurnView, turnView } from './turnView.ts'
import { type Key, plainTyped, type Typed } from './typed.ts'

/** The parts of a plan that are worked out each on their own. */
export interface Plan {
  readonly turn: TurnView
  readonly angles: AnglesView
  readonly sets: SetsView
  readonly picture: PictureView
  readonly sharp: SharpView
  readonly exposure: ExposureView
  readonly smooth: SmoothView
  readonly loop: LoopView
  readonly cards: CardsView
  readonly prints: PrintsView
  /** Undefined where the studio's own figures give no price: the refusal says why. */
  readonly cost: CostView | undefined
}

export interface WorkedPlan {
  readonly plan: Plan
  readonly refusals: Refusals
  /** The parts that stand as they last could be worked out, because something in them is refused now. */
  readonly standing: ReadonlySet<keyof Plan>
}

/**
 * The whole plan from what is typed. A part with something wrong in it keeps the figures it had, so that the
 * rest of the screen stays; its refusals say what is wrong and where.
 * @param before  the plan as it last was; without it wrong parts stand on the plain plan
 */
export function workOutPlan(typedAsIs: Typed, studio: PlannerBasis, before?: Plan): WorkedPlan {
  const typed = { ...typedAsIs, rate: rateOf(typedAsIs) }
  const refusals: Partial<Record<Key, string>> = {}
  const standing = new Set<keyof Plan>()
  const take = <P extends keyof Plan>(part: P, work: (from: Typed) => Outcome<NonNullable<Plan[P]>>) => {
    const outcome = work(typed)
    if (outcome.refusals === undefined) return steady(outcome.value, before?.[part])
    for (const [key, sentence] of Object.entries(outcome.refusals)) refusals[key as Key] ??= sentence
    standing.add(part)
    return before?.[part] ?? work(plainTyped).value
  }
  const sure = <P extends keyof Plan>(part: P, work: (from: Typed) => Outcome<NonNullable<Plan[P]>>) => {
    const value = take(part, work)
    if (value === undefined) throw new Error(`The plain plan has no ${part}.`)
    return value
  }
  const turn = sure('turn', turnView)
  const angles = sure('angles', (from) => anglesView(from, turn.rows.length))
  const picture = sure('picture', (from) => pictureView(from, angles, turn.row))
  const sets = sure('sets', (from) => setsView(withinTurn(from, turn.frames), turn.frames))
  const cost = take('cost', (from) => costView(withinTurn(from, turn.frames), turn, picture, studio))
  const plan: Plan = {
    turn,
    angles,
    picture,
    sets,
    sharp: sure('sharp', (from) => sharpView(from, picture)),
    exposure: sure('exposure', exposureView),
    smooth: sure('smooth', (from) => smoothView(from, turn, picture)),
    loop: sure('loop', (from) => loopView(from, turn)),
    cards: sure('cards', (from) =>
      cardsView(from, {
        frames: cost?.figures.framesShot || turn.framesToShoot,
        widthPx: picture.sensorPx.width,
        heightPx: picture.sensorPx.height,
        stepMs: cost?.stepMs ?? studio.basis.pace.stepMs,
      }),
    ),
    prints: sure('prints', (from) => printsView(from, turn)),
    cost,
  }
  return { plan, refusals, standing }
}

/** The part as it was, where it comes out the same: then nothing of it is drawn again. */
function steady<T>(next: NonNullable<T>, before: T | undefined): NonNullable<T> {
  return before != null && JSON.stringify(before) === JSON.stringify(next) ? before : next
}

/** The plain plan's own set, cut to turns that have fewer frames than it. */
function withinTurn(typed: Typed, frames: number): Typed {
  if (typed !== plainTyped) return typed
  return {
    ...typed,
    set: String(Math.min(frames, Number(typed.set))),
    nth: String(Math.min(frames, Number(typed.nth))),
  }
}
