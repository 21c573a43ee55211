import { weekdayOf } from '../../main/trade/calendar.ts'
import css from './board.module.css'
import { daysOf, pitchPx, type Stretch, slotPx } from './hanging.ts'

const tapePx = 34

/**
 * The days as a tailor's tape: a mark per day, longer on Mondays, today under the pointer. Drawn for the eye;
 * every job says its own day.
 */
export function Tape(props: { readonly stretch: Stretch; readonly today: string; readonly widthPx: number }) {
  const { stretch, today, widthPx } = props
  const days = daysOf(stretch)
  const end = slotPx + days.length * pitchPx
  return (
    <svg className={css.tape} width={widthPx} height={tapePx + 14} aria-hidden="true">
      <rect className={css.band} x="0" y="14" width={widthPx} height={tapePx} />
      <text className={css.edge} x={slotPx / 2} y={14 + 21}>
        earlier
      </text>
      {days.map((day, index) => (
        <Day key={day} day={day} x={slotPx + index * pitchPx} isFirst={index === 0} isToday={day === today} />
      ))}
      <path className={css.mark} d={`M${end + 0.5} 14v${tapePx}`} />
      <text className={css.edge} x={end + slotPx / 2} y={14 + 21}>
        later
      </text>
      <path className={css.mark} d={`M${end + slotPx + 0.5} 14v${tapePx}`} />
      <text className={css.edge} x={end + slotPx * 1.5} y={14 + 21}>
        no day
      </text>
    </svg>
  )
}

const monthOf = new Intl.DateTimeFormat('en-GB', { month: 'short', timeZone: 'UTC' })

function Day(props: {
  readonly day: string
  readonly x: number
  readonly isFirst: boolean
  readonly isToday: boolean
}) {
  const { day, x } = props
  const weekday = weekdayOf(day)
  const isMonday = weekday === 1
  const middle = x + pitchPx / 2
  const isMonthNamed = props.isFirst || day.endsWith('-01')
  return (
    <g className={weekday > 5 ? css.restDay : undefined}>
      <path className={css.mark} d={`M${x + 0.5} 14v${isMonday || props.isFirst ? tapePx : 9}`} />
      <text className={css.day} x={middle} y={14 + 19}>
        {Number(day.slice(8))}
      </text>
      <text className={css.weekday} x={middle} y={14 + 30}>
        {isMonthNamed ? monthOf.format(new Date(`${day}T00:00:00Z`)).slice(0, 3) : 'MTWTFSS'[weekday - 1]}
      </text>
      {props.isToday ? (
        <path className={css.pointer} d={`M${middle} 16l-6 -13h12z`}>
          <title>Today</title>
        </path>
      ) : null}
    </g>
  )
}
