import css from './medianBar.module.css'

/**
 * An estimate as a bar from its median to its 80 % value, on a line that starts at nothing. Bars in one list
 * share `scaleTo`, so that their lengths compare.
 */
export function MedianBar(props: {
  readonly median: number
  /** The value that four of five stay under. */
  readonly high: number
  /** The value at the right end of the line. */
  readonly scaleTo: number
  /** What it really came to, as a diamond under the line. */
  readonly actual?: number
  /** Writes a value with its unit: `durationText`. */
  readonly say: (value: number) => string
  /** What is estimated: `Bench time`. */
  readonly label: string
}) {
  const { median, high, actual, say } = props
  const scale = Math.max(props.scaleTo, high, actual ?? 0, Number.MIN_VALUE)
  const at = (value: number) => `${(value / scale) * 100}%`
  const sentence = [
    `${props.label}: as often under ${say(median)} as over it, four times in five under ${say(high)}`,
    actual !== undefined && `really ${say(actual)}`,
  ]
  return (
    <svg className={css.bar} role="img" aria-label={sentence.filter(Boolean).join('; ')}>
      <line className={css.axis} x1="0" x2="100%" y1="9" y2="9" />
      <line className={css.axis} x1="0" x2="0" y1="5" y2="13" />
      <rect className={css.span} x={at(median)} width={at(high - median)} y="5" height="8" />
      <line className={css.median} x1={at(median)} x2={at(median)} y1="2" y2="16" />
      {actual === undefined ? null : (
        <svg x={at(actual)} overflow="visible" aria-hidden="true">
          <path className={css.actual} d="M0 4l4 5l-4 5l-4 -5z" />
        </svg>
      )}
    </svg>
  )
}
