import type { Asks } from '../../main/api/types.ts'

/** A product; name only what the test is about. Invented. */
export function aProduct(
  of: Partial<Asks['products']['add']['product']> = {},
): Asks['products']['add']['product'] {
  return {
    familyId: null,
    code: 'K-104',
    name: 'Kettle',
    variant: null,
    widthMm: 220,
    depthMm: 160,
    heightMm: 240,
    plan: 'box',
    sweptMm: null,
    massG: 1200,
    finish: 'satin',
    gtin: null,
    valueMinor: null,
    startPose: null,
    handlingNote: null,
    ...of,
  }
}
