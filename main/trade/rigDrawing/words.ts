import { lookingText } from '../looking.ts'
import { type DrawnRig, degreesLabel, type Grip, mmLabel } from './drawing.ts'

/** The plan as a sentence: the text alternative of the drawing from above. */
export function planSentence(what: string, rig: DrawnRig): string {
  return sentence([
    `${what}, from above`,
    platterWords(rig),
    rig.camera && `camera ${mmLabel(rig.camera.distanceMm)} from the axis`,
    rig.camera?.fieldWidthMm != null && `field ${mmLabel(rig.camera.fieldWidthMm)} wide at the axis`,
    ...rig.lights.map(
      ({ letter, bearingDeg, distanceMm }) =>
        `light ${letter} at ${degreesLabel(bearingDeg)} and ${mmLabel(distanceMm)}`,
    ),
    rig.product && `product ${mmLabel(rig.product.sweptMm)} across`,
  ])
}

/** The side view as a sentence. */
export function sideSentence(what: string, rig: DrawnRig): string {
  return sentence([
    `${what}, from the side`,
    platterWords(rig),
    rig.camera &&
      `camera ${mmLabel(rig.camera.heightMm)} over the platter, looking ${lookingText(rig.camera.tiltDeg)}`,
    ...rig.lights.map(({ letter, heightMm }) => `light ${letter} ${mmLabel(heightMm)} high`),
    rig.product && `product ${mmLabel(rig.product.heightMm)} high`,
  ])
}

/** What a grip is called. */
export function gripName(grip: Grip, rig: DrawnRig): string {
  if (grip.of === 'camera') return 'Camera'
  if (grip.of === 'aim') return 'Where the camera looks'
  return `Light ${rig.lights.find(({ index }) => index === grip.index)?.letter ?? ''}`
}

/** Where a grip stands, in words. */
export function gripText(grip: Grip, rig: DrawnRig): string {
  const { camera } = rig
  if (grip.of === 'aim') return camera ? lookingText(camera.tiltDeg) : ''
  if (grip.of === 'camera') {
    return camera ? `${mmLabel(camera.distanceMm)} from the axis, ${mmLabel(camera.heightMm)} high` : ''
  }
  const light = rig.lights.find(({ index }) => index === grip.index)
  return light
    ? `bearing ${degreesLabel(light.bearingDeg)}, ${mmLabel(light.distanceMm)} from the axis, ${mmLabel(light.heightMm)} high`
    : ''
}

function platterWords({ platterDiameterMm }: DrawnRig): string | false {
  return platterDiameterMm > 0 && `platter ${mmLabel(platterDiameterMm)} across`
}

function sentence(parts: readonly (string | false | null | undefined)[]): string {
  return parts.filter(Boolean).join(', ')
}
