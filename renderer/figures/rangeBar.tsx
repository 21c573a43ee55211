import css from './figures.module.css'

/** The range of a share on a line from 0 to `scale`; the mark is the share that counts. */
export function RangeBar(props: {
  readonly label: string
  readonly range: { readonly low: number; readonly high: number }
  readonly mark: number
  readonly scale: number
}) {
  const { low, high } = props.range
  const at = (share: number) => `${(share / props.scale) * 100}%`
  return (
    <svg className={css.errorBar} role="img" aria-label={props.label}>
      <line className={css.axis} x1="0" x2="100%" y1="9" y2="9" />
      <line className={css.axis} x1="0" x2="0" y1="5" y2="13" />
      <rect className={css.either} x={at(low)} width={at(high - low)} y="5" height="8" />
      <line className={css.average} x1={at(props.mark)} x2={at(props.mark)} y1="2" y2="16" />
    </svg>
  )
}
