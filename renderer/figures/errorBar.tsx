import css from './figures.module.css'
import { minutesText, signedMinutes } from './figureWords.ts'

/**
 * How far quotes were off, on a line with what was right in its middle: to the left too short, to the right too
 * long. The bar reaches as far as quotes were off either way, the mark stands where they were on average.
 */
export function ErrorBar(props: {
  readonly label: string
  readonly biasMs: number
  readonly absoluteMs: number
  /** The error at either end of the line, in ms. */
  readonly scaleTo: number
}) {
  const { label, biasMs, absoluteMs } = props
  const scale = Math.max(props.scaleTo * 1.08, 1)
  const at = (ms: number) => `${50 + (ms / scale) * 50}%`
  return (
    <svg
      className={css.errorBar}
      role="img"
      aria-label={`${label}: ${minutesText(absoluteMs)} off either way, ${signedMinutes(biasMs)} on average`}
    >
      <line className={css.axis} x1="0" x2="100%" y1="9" y2="9" />
      <rect
        className={css.either}
        x={at(-absoluteMs)}
        width={`${(absoluteMs / scale) * 100}%`}
        y="5"
        height="8"
      />
      <line className={css.right} x1="50%" x2="50%" y1="1" y2="17" />
      <line className={css.average} x1={at(biasMs)} x2={at(biasMs)} y1="2" y2="16" />
    </svg>
  )
}
