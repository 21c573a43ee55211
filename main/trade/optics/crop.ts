import { checkOver0, checkPixels } from './guard.ts'

export interface Sensor {
  readonly widthMm: number
  readonly heightMm: number
  readonly widthPx: number
  readonly heightPx: number
}

/** The pixels of a delivered picture. */
export interface Delivered {
  readonly widthPx: number
  readonly heightPx: number
}

/** What of a sensor goes into a delivered picture. */
export interface Crop {
  readonly widthMm: number
  readonly heightMm: number
  /** Sensor pixels in the crop, not always whole. */
  readonly widthPx: number
  readonly heightPx: number
  /** The part of the sensor's area that is used, over 0 to 1. */
  readonly keptPart: number
  /** Side of one delivered pixel on the sensor: the circle of confusion that the delivery asks for. */
  readonly deliveredPixelMm: number
  /** Delivered pixels for each sensor pixel along a side; over 1 the picture is blown up. */
  readonly enlargement: number
}

/** The largest part of a sensor that has the delivered picture's aspect. Turn an upright camera's sensor first. */
export function cropToAspect(sensor: Sensor, delivered: Delivered): Crop {
  checkSensor(sensor)
  checkPixels(delivered.widthPx, 'The delivered width', 'deliveredWidthPx')
  checkPixels(delivered.heightPx, 'The delivered height', 'deliveredHeightPx')
  const deliveredPixelMm = Math.min(sensor.widthMm / delivered.widthPx, sensor.heightMm / delivered.heightPx)
  const widthMm = deliveredPixelMm * delivered.widthPx
  const heightMm = deliveredPixelMm * delivered.heightPx
  const widthPx = (sensor.widthPx * widthMm) / sensor.widthMm
  return {
    widthMm,
    heightMm,
    widthPx,
    heightPx: (sensor.heightPx * heightMm) / sensor.heightMm,
    keptPart: (widthMm * heightMm) / (sensor.widthMm * sensor.heightMm),
    deliveredPixelMm,
    enlargement: delivered.widthPx / widthPx,
  }
}

/** The sensor of a camera turned upright on its side. */
export function turnedUpright(sensor: Sensor): Sensor {
  return {
    widthMm: sensor.heightMm,
    heightMm: sensor.widthMm,
    widthPx: sensor.heightPx,
    heightPx: sensor.widthPx,
  }
}

/** Delivered pixels for one mm in the plane of focus. */
export function deliveredPxPerMm(crop: Pick<Crop, 'deliveredPixelMm'>, magnified: number): number {
  checkOver0(crop.deliveredPixelMm, 'The delivered pixel', 'deliveredPixelMm')
  checkOver0(magnified, 'The magnification', 'magnification', '')
  return magnified / crop.deliveredPixelMm
}

function checkSensor(sensor: Sensor): void {
  checkOver0(sensor.widthMm, 'The sensor’s width', 'sensorWidthMm')
  checkOver0(sensor.heightMm, 'The sensor’s height', 'sensorHeightMm')
  checkPixels(sensor.widthPx, 'The sensor’s width', 'sensorWidthPx')
  checkPixels(sensor.heightPx, 'The sensor’s height', 'sensorHeightPx')
}
