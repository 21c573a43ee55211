import { wilson } from '../../main/trade/wilson.ts'
import { percentText } from '../parts/format.ts'
import css from './rateBar.module.css'

const width = 120

/** A share from 0 to 100 % as a tick, in the interval it probably lies in. */
export function RateBar(props: { readonly approved: number; readonly answered: number }) {
  const { approved, answered } = props
  const { low, high } = wilson(approved, answered)
  const share = approved / Math.max(1, answered)
  return (
    <span className={css.row}>
      <svg
        className={css.bar}
        viewBox={`-1 0 ${width + 2} 12`}
        role="img"
        aria-label={`${percentText(share)}, probably between ${percentText(low)} and ${percentText(high)}`}
      >
        <line x1={0} x2={width} y1={6} y2={6} className={css.scale} />
        <line x1={0} x2={0} y1={3} y2={9} className={css.scale} />
        <line x1={width} x2={width} y1={3} y2={9} className={css.scale} />
        <rect
          x={low * width}
          y={4}
          width={Math.max(1, (high - low) * width)}
          height={4}
          className={css.interval}
        />
        <line x1={share * width} x2={share * width} y1={0} y2={12} className={css.share} />
      </svg>
      <span className={css.figures} aria-hidden="true">
        {`${percentText(low).replace(/\s%/u, '')} to ${percentText(high)}`}
      </span>
    </span>
  )
}
