import { useId } from 'react'
import { Link } from 'react-router'
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
  /** What else is to be known of it: `2 days after its due day`, `goods expected Tue 3 May`. */
  readonly notes?: readonly string[]
  /** The block's number, where it can be moved by hand. */
  readonly movable?: number
  /** True while it would lie elsewhere. */
  readonly leaves?: boolean
}

/** Where a block would lie that is being moved, or moves along. */
export interface Ghost extends Stretch {
  readonly key: string | number
  readonly label: string
  readonly setChangeMinutes: number
  /** `held`: in the hand; `refused`: it cannot lie there; `along`: it moves along with another. */
  readonly kind: 'held' | 'refused' | 'along'
}

/** A bench day as a strip to scale: opening hours light, blocks on them, set changes hatched, now as a line. */
export function DayStrip(
  props: Stretch & {
    /** Names the list of blocks to a screen reader: `Bench 1, Tue 3 May`. */
    readonly label: string
    readonly open: readonly Stretch[]
    readonly blocks: readonly DayBlock[]
    readonly nowMinute?: number
    /** Stretches that are named as free. */
    readonly free?: readonly Stretch[]
    readonly ghosts?: readonly Ghost[]
    /** Names the strip's place to those who look for what is under a pointer. */
    readonly strip?: string
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
      <div className={css.bed} data-strip={props.strip}>
        {props.open.map((stretch) => (
          <div key={stretch.fromMinute} className={css.open} style={place(stretch)} />
        ))}
        {props.free?.map((stretch) => (
          <div key={stretch.fromMinute} className={css.free} style={place(stretch)} aria-hidden="true">
            <span>{`${durationText(stretch.toMinute - stretch.fromMinute)} free`}</span>
          </div>
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
        {props.ghosts?.map((ghost) => (
          <Shadow key={ghost.key} ghost={ghost} place={place(clipped(ghost, props))} />
        ))}
        {nowMinute !== undefined && nowMinute >= fromMinute && nowMinute <= toMinute ? (
          <div className={css.now} style={{ left: share(nowMinute - fromMinute) }} aria-hidden="true" />
        ) : null}
      </div>
    </div>
  )
}

function clipped({ fromMinute, toMinute }: Stretch, shown: Stretch): Stretch {
  const from = Math.min(Math.max(fromMinute, shown.fromMinute), shown.toMinute)
  return { fromMinute: from, toMinute: Math.max(from, Math.min(toMinute, shown.toMinute)) }
}

function Shadow(props: { readonly ghost: Ghost; readonly place: Placed['place'] }) {
  const { ghost } = props
  const changeShare = ghost.setChangeMinutes / Math.max(1, ghost.toMinute - ghost.fromMinute)
  return (
    <div className={`${css.ghost} ${css[ghost.kind] ?? ''}`} style={props.place} aria-hidden="true">
      {ghost.setChangeMinutes > 0 ? (
        <div className={css.ghostChange} style={{ width: `${changeShare * 100}%` }}>
          <Hatching />
        </div>
      ) : null}
      <span className={css.words}>
        <span>{ghost.label}</span>
        <span>{times(ghost)}</span>
      </span>
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
    block.leaves && css.leaves,
    block.movable !== undefined && css.movable,
  ]
  const notes = block.notes ?? []
  const shared = {
    className: classes.filter(Boolean).join(' '),
    style: place,
    title: [block.label, times(block), ...notes].join(', '),
  }
  const inside = (
    <span className={css.words}>
      <span>{block.label}</span>
      {notes.length > 0 ? (
        <span className={block.late ? css.lateNote : css.note}>{notes.join(', ')}</span>
      ) : null}
      <span className={css.times}>{times(block)}</span>
    </span>
  )
  return block.to ? (
    <Link to={block.to} {...shared} draggable={false} data-block={block.movable}>
      {inside}
    </Link>
  ) : (
    <div {...shared}>{inside}</div>
  )
}

function SetChange({ block, place }: Placed) {
  const sentence = `${block.label}, ${durationText(block.toMinute - block.fromMinute)}`
  const classes = [css.hatched, block.leaves && css.leaves]
  return (
    <div className={classes.filter(Boolean).join(' ')} style={place} title={sentence}>
      <Hatching />
      <span className={css.change}>{sentence}</span>
    </div>
  )
}

function Hatching() {
  const id = useId()
  return (
    <svg aria-hidden="true">
      <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <line className={css.hatch} x1="0" y1="0" x2="0" y2="6" />
      </pattern>
      <rect width="100%" height="100%" fill={`url(#${id})`} />
    </svg>
  )
}

function times(stretch: Stretch): string {
  return `${clockText(stretch.fromMinute)} to ${clockText(stretch.toMinute)}`
}
