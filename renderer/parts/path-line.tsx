import { NavLink } from 'react-router'
import { countText } from './format.ts'
import css from './path-line.module.css'

/** One station of a path: its word, its page, and how many stand there. */
export interface Station {
  readonly key: string
  readonly label: string
  readonly to: string
  /** Left out where the station counts nothing (history, brief). */
  readonly count?: number
}

/** The path across the top of a job: each station a link to its page, with the count of what stands there. */
export function PathLine(props: {
  /** For a screen reader: `Stations of job 2041`. */
  readonly label: string
  /** What is counted, in the singular. */
  readonly counted?: string
  readonly stations: readonly Station[]
}) {
  const counted = props.counted ?? 'spin'
  return (
    <nav aria-label={props.label}>
      <ol className={css.line}>
        {props.stations.map((station) => (
          <li key={station.key} className={css.station}>
            <NavLink
              to={station.to}
              end
              className={({ isActive }) => (isActive ? `${css.link} ${css.here}` : (css.link ?? ''))}
              aria-label={
                station.count === undefined
                  ? station.label
                  : `${station.label}, ${countText(station.count, counted)}`
              }
            >
              <span className={station.count ? css.count : `${css.count} ${css.none}`}>
                {station.count ?? ''}
              </span>
              <span className={css.word}>{station.label}</span>
            </NavLink>
          </li>
        ))}
      </ol>
    </nav>
  )
}
