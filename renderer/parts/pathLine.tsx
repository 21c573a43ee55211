import { NavLink } from 'react-router'
import words from '../look/words.module.css'
import css from './pathLine.module.css'

/** One station of a path: its word, its page, and how many stand there. */
export interface Station {
  readonly key: string
  readonly label: string
  readonly to: string
  /** Left out where the station counts nothing (history, brief). */
  readonly count?: number
  /** For the station whose address begins all the others': it is marked only where one is exactly there. */
  readonly isExact?: boolean
}

/** The path across the top of a job: each station a link to its page, with the count of what stands there. */
export function PathLine(props: {
  /** For a screen reader: `Stations of job 2041`. */
  readonly label: string
  /** What is counted, one and many; spins where it is not said. */
  readonly counted?: readonly [one: string, many: string]
  readonly stations: readonly Station[]
}) {
  const [one, many] = props.counted ?? ['spin', 'spins']
  return (
    <nav aria-label={props.label}>
      <ol className={css.line}>
        {props.stations.map((station) => (
          <li key={station.key} className={css.station}>
            <NavLink
              to={station.to}
              end={station.isExact ?? false}
              className={({ isActive }) => (isActive ? `${css.link} ${css.here}` : (css.link ?? ''))}
            >
              <span className={station.count ? css.count : `${css.count} ${css.none}`}>
                {station.count ?? ''}
                {station.count === undefined ? null : (
                  <span className={words.spoken}>{` ${station.count === 1 ? one : many} at `}</span>
                )}
              </span>
              <span className={css.word}>{station.label}</span>
            </NavLink>
          </li>
        ))}
      </ol>
    </nav>
  )
}
