import { type Caution, loadCautions, rigCautions } from './caution.ts'
import { type ChangeItem, type ChangeTimes, changeoverItems, type StandingRig } from './changeover.ts'
import { type Kept, type Shown, shown } from './measures.ts'
import { lightLetter } from './rigDrawing/drawnRig.ts'
import { lightFact, lightPlace, partLine, type ToldRig } from './rigFacts.ts'

/** A rig with what a person reads of it while moving from one to the next. */
export type SteppedRig = StandingRig & Kept<ToldRig> & { readonly lights: readonly SteppedLight[] }
type SteppedLight = StandingRig['lights'][number] & {
  readonly power: string | null
  readonly colourTemperatureK: number | null
}

/** One thing to do in a set change: what, from where, to where, and how long the studio takes for it. */
export interface ChangeStep {
  readonly part: ChangeItem['part']
  readonly what: string
  /** Null where it is brought. */
  readonly from: string | null
  /** Null where it is taken away. */
  readonly to: string | null
  readonly minutes: number
}

/**
 * A set change as it is done, step by step: the items of `changeoverItems`, each with where it stands and where it goes.
 * @param dialled  the settings to dial in one line; null where they stay, or none are chosen
 */
export function changeSteps(
  from: SteppedRig | null,
  to: SteppedRig,
  dialled: string | null,
  times: ChangeTimes,
): readonly ChangeStep[] {
  const [was, is] = [from && shown(from), shown(to)]
  return changeoverItems(from, to, dialled !== null, times).map(({ part, light, ms }) => ({
    part,
    ...told(part, light, was, is, dialled),
    minutes: ms / 60_000,
  }))
}

type Told = Pick<ChangeStep, 'what' | 'from' | 'to'>

function told(
  part: ChangeItem['part'],
  light: ChangeItem['light'],
  was: Shown<SteppedRig> | null,
  is: Shown<SteppedRig>,
  dialled: string | null,
): Told {
  if (part === 'settings') return { what: 'Settings', from: null, to: dialled }
  if (part === 'light') return lightTold(light, was?.lights ?? [], is.lights)
  return { what: names[part], from: was && partLine(was, part), to: partLine(is, part) }
}

const names = { platter: 'Platter', backdrop: 'Backdrop', camera: 'Camera', lens: 'Lens' }

type ShownLights = Shown<SteppedRig>['lights']

/** A light by its letter in the rig that comes; one that goes, by its letter in the rig that stood. */
function lightTold(light: ChangeItem['light'], was: ShownLights, is: ShownLights): Told {
  const [b, a] = [light?.before ?? null, light?.after ?? null]
  const [before, after] = [b === null ? undefined : was[b], a === null ? undefined : is[a]]
  const isSame = !after || (before?.kind === after.kind && before.modifier === after.modifier)
  const named = after ?? before
  const name = [named?.kind, named?.modifier].filter(Boolean).join(', ')
  const letter = a === null ? `${lightLetter(b ?? 0)} of before` : lightLetter(a)
  const asWas = b !== null && a !== null && b !== a ? `as ${lightLetter(b)}: ` : ''
  return {
    what: `Light ${letter}, ${name}`,
    from:
      before && b !== null ? `${asWas}${isSame ? lightPlace(before, b) : lightFact(before, b).value}` : null,
    to: after && a !== null ? [lightPlace(after, a), after.power].filter(Boolean).join(', ') : null,
  }
}

const caredFor: Readonly<Record<ChangeItem['part'], readonly Caution['about'][]>> = {
  platter: ['load', 'lifting', 'cables'],
  backdrop: [],
  camera: ['stands', 'lens'],
  lens: ['lens'],
  light: ['lamps', 'cables', 'stands'],
  settings: [],
}

/** What to take care of in these steps: hot lamps, cables, stands, a lens that can fall, a load. Each once. */
export function cautionsOf(steps: readonly ChangeStep[]): readonly Caution[] {
  const abouts = new Set(steps.flatMap(({ part }) => caredFor[part]))
  return [...rigCautions, ...loadCautions].filter(({ about }) => abouts.has(about))
}
