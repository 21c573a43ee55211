import { useId } from 'react'
import { Link } from 'react-router'
import words from '../look/words.module.css'
import css from './dayStrip.module.css'
import { clockText, durationText } from './format.ts'

/** A stretch of a bench day, in minutes since midnight of the studio's clock. */
export interface Stretch {
  readonly fromMinute: number
  readonly toMinute: number
}

/** What stands in a stretch of the day. */
export interface DayBlock extends Stretch {
  readonly key: string | number
  readonly label: string
  /** `changeover`: a set change, hatched. `closed`: a closure inside opening hours. */
  readonly kind: 'shoot' | 'changeover' | 'closed'
  readonly to?: string
  readonly done?: boolean
  readonly late?: boolean
}

/** A bench day as a strip to scale: opening hours light, blocks on them, set changes hatched, now as a line. */
export function DayStrip(
  props: Stretch & {
    /** Names the list of blocks to a screen reader: `Bench 1, Tue 3 May`. */
    readonly label: string
    readonly open: readonly Stretch[]
    readonly blocks: readonly DayBlock[]
    readonly nowMinute?: number
  },
) {
  const { fromMinute, toMinute, nowMinute } = props
  const share = (minutes: number) => `${(minutes / (toMinute - fromMinute)) * 100}%`
  const place = (stretch: Stretch) => ({
    left: share(stretch.fromMinute - fromMinute),
    width: share(stretch.toMinute - stretch.fromMinute),
  })
  const firstHour = Math.ceil(fromMinute / 60)
  const hours = Array.from({ length: Math.ceil(toMinute / 60) - firstHour }, (_, index) => firstHour + index)
  return (
    <div className={css.strip}>
      <div className={css.hours} aria-hidden="true">
        {hours.map((hour) => (
          <span key={hour} className={css.hour} style={{ left: share(hour * 60 - fromMinute) }}>
            {hour}
          </span>
        ))}
      </div>
      <div className={css.bed}>
        {props.open.map((stretch) => (
          <div key={stretch.fromMinute} className={css.open} style={place(stretch)} />
        ))}
        <ol aria-label={props.label}>
          {props.blocks.map((block) => (
            <li key={block.key}>
              {block.kind === 'changeover' ? (
                <SetChange block={block} place={place(block)} />
              ) : (
                <Block block={block} place={place(block)} />
              )}
            </li>
          ))}
        </ol>
        {nowMinute !== undefined && nowMinute >= fromMinute && nowMinute <= toMinute ? (
          <div className={css.now} style={{ left: share(nowMinute - fromMinute) }} aria-hidden="true" />
        ) : null}
      </div>
    </div>
  )
}

interface Placed {
  readonly block: DayBlock
  readonly place: { readonly left: string; readonly width: string }
}

function Block({ block, place }: Placed) {
  const classes = [
    css.block,
    block.done && css.done,
    block.late && css.late,
    block.kind === 'closed' && css.closed,
  ]
  const shared = {
    className: classes.filter(Boolean).join(' '),
    style: place,
    title: `${block.label}, ${times(block)}`,
  }
  const inside = (
    <span className={css.words}>
      <span>{block.label}</span>
      <span>{times(block)}</span>
    </span>
  )
  return block.to ? (
    <Link to={block.to} {...shared}>
      {inside}
    </Link>
  ) : (
    <div {...shared}>{inside}</div>
  )
}

function SetChange({ block, place }: Placed) {
  const id = useId()
  const sentence = `${block.label}, ${durationText(block.toMinute - block.fromMinute)}`
  return (
    <div className={css.hatched} style={place} title={sentence}>
      <svg aria-hidden="true">
        <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line className={css.hatch} x1="0" y1="0" x2="0" y2="6" />
        </pattern>
        <rect width="100%" height="100%" fill={`url(#${id})`} />
      </svg>
      <span className={words.spoken}>{sentence}</span>
    </div>
  )
}

function times(stretch: Stretch): string {
  return `${clockText(stretch.fromMinute)} to ${clockText(stretch.toMinute)}`
}
