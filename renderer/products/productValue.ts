import type { Answers, Asks } from '../../main/api/types.ts'

type Sent = Asks['products']['add']['product']
type Sizes = 'widthMm' | 'depthMm' | 'heightMm' | 'sweptMm'

/** A product while it is being written: lengths in whole micrometres, as the fields hold them. */
export interface ProductValue extends Omit<Sent, Sizes> {
  readonly widthUm: number | null
  readonly depthUm: number | null
  readonly heightUm: number | null
  readonly sweptUm: number | null
}

export const newProductValue: ProductValue = {
  familyId: null,
  code: '',
  name: '',
  variant: '',
  widthUm: null,
  depthUm: null,
  heightUm: null,
  plan: 'box',
  sweptUm: null,
  massG: null,
  standG: null,
  finish: 'matt',
  gtin: '',
  valueMinor: null,
  startPose: '',
  handlingNote: '',
}

/** A kept product as a form writes on it. */
export function productValueOf(product: Answers['products']['one']['product']): ProductValue {
  const {
    familyId,
    code,
    name,
    variant,
    plan,
    massG,
    standG,
    finish,
    gtin,
    valueMinor,
    startPose,
    handlingNote,
  } = product
  return {
    familyId,
    code,
    name,
    variant,
    widthUm: umOf(product.widthMm),
    depthUm: umOf(product.depthMm),
    heightUm: umOf(product.heightMm),
    plan,
    sweptUm: umOf(product.sweptMm),
    massG,
    standG,
    finish,
    gtin,
    valueMinor,
    startPose,
    handlingNote,
  }
}

/** The form's product as it is sent. */
export function sentProduct({ widthUm, depthUm, heightUm, sweptUm, ...rest }: ProductValue): Sent {
  return {
    ...rest,
    widthMm: mmOf(widthUm),
    depthMm: mmOf(depthUm),
    heightMm: mmOf(heightUm),
    sweptMm: mmOf(sweptUm),
  }
}

/** Whole micrometres of a length in mm that the studio keeps to a thousandth. */
function umOf(mm: number | null): number | null {
  return mm === null ? null : Math.round(mm * 1000)
}

export function mmOf(um: number | null): number | null {
  return um === null ? null : um / 1000
}
