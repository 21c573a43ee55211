import { mmText } from './figures.ts'
import type { PictureView } from './pictureView.ts'
import css from './planner.module.css'

const width = 264
const height = 236
const margin = 20

/** The sensor's field, the delivered crop in it and the swept outline of the product, at one scale. */
export function Framing({ picture }: { readonly picture: PictureView }) {
  const { sensorField, field, outline, fill } = picture
  const reach = Math.max(outline.aboveMm, outline.belowMm) * 2
  const scale = Math.min(
    (width - 2 * margin) / Math.max(sensorField.widthMm, outline.widthMm),
    (height - 2 * margin) / Math.max(sensorField.heightMm, reach),
  )
  const centred = (size: { readonly widthMm: number; readonly heightMm: number }) => ({
    x: width / 2 - (size.widthMm * scale) / 2,
    y: height / 2 - (size.heightMm * scale) / 2,
    width: size.widthMm * scale,
    height: size.heightMm * scale,
  })
  const crop = centred(field)
  const words = [
    `The delivered picture sees ${mmText(field.widthMm)} by ${mmText(field.heightMm)} at the axis`,
    `the turning product sweeps ${mmText(outline.widthMm)} by ${mmText(outline.heightMm)} of it`,
    fill.fits ? 'and stays inside' : 'and is cut off',
  ]
  return (
    <svg
      className={css.framing}
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      role="img"
      aria-label={words.join(', ')}
    >
      <rect className={css.sensor} {...centred(sensorField)} />
      <rect className={css.crop} {...crop} />
      <rect
        className={fill.fits ? css.swept : `${css.swept} ${css.cut}`}
        x={width / 2 - (outline.widthMm * scale) / 2}
        y={height / 2 - outline.aboveMm * scale}
        width={outline.widthMm * scale}
        height={outline.heightMm * scale}
      />
      <path className={css.axis} d={`M${width / 2} ${margin / 2}V${height - margin / 2}`} />
      <text className={css.drawn} x={crop.x} y={crop.y + crop.height + 13}>
        {`${picture.widthPx} × ${picture.heightPx}`}
      </text>
      <text className={css.drawn} x={width / 2 + 4} y={margin / 2 + 4}>
        axis
      </text>
    </svg>
  )
}
