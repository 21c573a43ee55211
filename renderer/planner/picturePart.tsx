import { memo } from 'react'
import { Button } from '../parts/button.tsx'
import { FieldLine } from '../parts/form.tsx'
import { numberText, percentText, withUnit } from '../parts/format.ts'
import { Fact, Part, Sheet } from '../parts/page.tsx'
import { degreesText, mmText } from './figures.ts'
import { Framing } from './framing.tsx'
import type { PictureView } from './pictureView.ts'
import css from './planner.module.css'
import { Choosing, Ticking, Typing, usePlannerHand } from './plannerFields.tsx'
import { ProductChoice } from './productChoice.tsx'
import { useFurtherRows } from './rowsFields.tsx'
import { rowKey } from './rowTexts.ts'
import { Standing } from './standing.tsx'

/** Field, crop and fill of the swept product, drawn to scale. */
export const PicturePart = memo(function PicturePart(props: {
  readonly picture: PictureView
  readonly rowCount: number
  readonly isStanding: boolean
}) {
  const { picture } = props
  const further = useFurtherRows(props.rowCount)
  const { rows } = picture
  const { patch } = usePlannerHand()
  return (
    <Part title="The picture">
      <div className={css.pictured}>
        <div className={css.stack}>
          <ProductChoice />
          <FieldLine>
            <Typing name="swept" label="Swept width" unit="mm" />
            <Typing name="height" label="Height" unit="mm" />
            <Typing name="distance" label="Lens to axis" unit="mm" />
            <Typing name="angle" label={further.length > 0 ? 'Row 1, down by' : 'Looking down by'} unit="°" />
          </FieldLine>
          {further.length > 0 ? (
            <FieldLine>
              {further.map((row) => (
                <Typing
                  key={row}
                  name={rowKey('angle', row)}
                  label={`Row ${row}, down by`}
                  unit="°"
                  placeholder={String(rows[row - 1]?.viewAngleDeg ?? '')}
                />
              ))}
              <Choosing
                name="row"
                label="Row shown"
                options={rows.map((_, index) => ({ value: String(index + 1), label: `row ${index + 1}` }))}
              />
            </FieldLine>
          ) : null}
          <FieldLine>
            <Typing name="focal" label="Focal length" unit="mm" />
            <Typing name="pxW" label="Delivered width" unit="px" />
            <Typing name="pxH" label="Delivered height" unit="px" />
          </FieldLine>
          <FieldLine>
            <Typing name="sensorW" label="Sensor width" unit="mm" />
            <Typing name="sensorH" label="Sensor height" unit="mm" />
            <Typing name="sensorPxW" label="Pixels across" unit="px" />
            <Typing name="sensorPxH" label="Pixels down" unit="px" />
          </FieldLine>
          <Ticking name="upright" label="The camera stands upright, on its side" />
          <p role="status">{fillSentence(picture)}</p>
          {rows.length > 1 ? <p className={css.note}>{rowsSentence(picture)}</p> : null}
          {picture.crop.enlargement > 1 ? (
            <p className={css.note}>
              {`The crop has ${numberText(picture.crop.widthPx, 0)} pixels across for ${picture.widthPx} delivered: the picture is blown up ${numberText(picture.crop.enlargement)} times.`}
            </p>
          ) : null}
          <Standing when={props.isStanding} />
          {picture.fill.fits ? null : (
            <p>
              <Button kind="quiet" onClick={() => patch({ distance: String(fittingDistanceMm(picture)) })}>
                {`Move the camera back to ${mmText(fittingDistanceMm(picture))}`}
              </Button>
            </p>
          )}
        </div>
        <div className={css.stack}>
          <Framing picture={picture} />
          <Sheet figures>
            <Fact label="Field">{sizeOf(picture.field)}</Fact>
            <Fact label="Angle of view, across">{degreesText(picture.angleOfViewDeg)}</Fact>
            <Fact label="Fill of the width">{percentText(picture.fill.widthPart)}</Fact>
            <Fact label="Fill of the height">{percentText(picture.fill.heightPart)}</Fact>
            <Fact label="Magnification">{`1 : ${numberText(1 / picture.magnification, 1)}`}</Fact>
            <Fact label="Pixels to the mm">{numberText(picture.axisPxPerMm)}</Fact>
            <Fact label="Used of the sensor">{percentText(picture.crop.keptPart)}</Fact>
            <Fact label="A pixel’s share of it">
              {withUnit(picture.crop.deliveredPixelMm * 1000, 'µm', 1)}
            </Fact>
          </Sheet>
        </div>
      </div>
    </Part>
  )
})

/** Width × height in whole millimetres. */
function sizeOf({ widthMm, heightMm }: PictureView['field']): string {
  return `${numberText(widthMm, 0)}\u00a0×\u00a0${withUnit(heightMm, 'mm', 0)}`
}

function fillSentence({ fill }: PictureView): string {
  const part = percentText(fill.part)
  if (!fill.fits) {
    return fill.part > 1
      ? `The turning product needs ${part} of the frame: it is cut off.`
      : `The turning product fills ${part} of the frame, but seen from this angle it stands too low or too high and is cut off. Aim lower, or move the camera back.`
  }
  return `The turning product fills ${part} of the frame, the ${fill.widthPart >= fill.heightPart ? 'width' : 'height'} first.`
}

/** What every row fills, so that none is forgotten while another is shown. */
function rowsSentence({ rows }: PictureView): string {
  const each = rows.map(
    ({ viewAngleDeg, fill }, index) =>
      `row ${index + 1}, ${numberText(viewAngleDeg)}° down, fills ${percentText(fill.part)}${fill.fits ? '' : ' and is cut off'}`,
  )
  return `By rows: ${each.join('; ')}.`
}

/** About how far the camera must be for a fill of 85 %, to whole centimetres: the fill goes with one over the distance. */
function fittingDistanceMm({ fill, outline, field, distanceMm }: PictureView): number {
  const needed = Math.max(fill.part, (2 * Math.max(outline.aboveMm, outline.belowMm)) / field.heightMm)
  return Math.ceil((distanceMm * needed) / 0.85 / 10) * 10
}
