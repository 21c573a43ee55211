import css from './paceLine.module.css'

/** A stretch of the line: how long a step took from one place to another, with its probable range. In seconds. */
export interface PacePiece {
  readonly from: number
  readonly to: number
  readonly seconds: number | null
  readonly range: { readonly low: number; readonly high: number } | null
}

/** Something that happened at a place of the line. */
export interface PaceEvent {
  readonly at: number
  readonly kind: 'pause' | 'fault'
  readonly word: string
}

const width = 720
const height = 190
const left = 44
const right = 8
const top = 26
const bottom = 26

/**
 * Seconds a step along a turn or a day, as a line of steps with the probable range behind it. Pauses stand as open
 * strokes above it, faults as rings. The same figures stand in a table beside it, which is what is read out.
 */
export function PaceLine(props: {
  readonly label: string
  readonly pieces: readonly PacePiece[]
  readonly events?: readonly PaceEvent[]
  /** Places that get a tick under the line, with the word that stands there. */
  readonly ticks: readonly { readonly at: number; readonly word: string }[]
}) {
  const { pieces, events = [] } = props
  const from = Math.min(...pieces.map((piece) => piece.from))
  const to = Math.max(...pieces.map((piece) => piece.to))
  const most = niceTop(
    Math.max(1, ...pieces.flatMap(({ seconds, range }) => [seconds ?? 0, range?.high ?? 0])),
  )
  const x = (at: number) =>
    left + ((at - from) / Math.max(to - from, Number.MIN_VALUE)) * (width - left - right)
  const y = (seconds: number) => height - bottom - (seconds / most) * (height - top - bottom)
  return (
    <svg className={css.line} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={props.label}>
      {[0, most / 2, most].map((seconds) => (
        <g key={seconds}>
          <line className={css.rule} x1={left} x2={width - right} y1={y(seconds)} y2={y(seconds)} />
          <text className={css.word} x={left - 6} y={y(seconds) + 4} textAnchor="end">
            {`${seconds}\u00a0s`}
          </text>
        </g>
      ))}
      {props.ticks.map(({ at, word }) => (
        <g key={at}>
          <line className={css.tick} x1={x(at)} x2={x(at)} y1={y(0)} y2={y(0) + 5} />
          <text
            className={css.word}
            x={x(at)}
            y={y(0) + 18}
            textAnchor={x(at) > width - 40 ? 'end' : 'middle'}
          >
            {word}
          </text>
        </g>
      ))}
      {pieces.map((piece) =>
        piece.range === null ? null : (
          <rect
            key={piece.from}
            className={css.range}
            x={x(piece.from)}
            width={x(piece.to) - x(piece.from)}
            y={y(piece.range.high)}
            height={Math.max(1, y(piece.range.low) - y(piece.range.high))}
          />
        ),
      )}
      <path className={css.pace} d={pathOf(pieces, x, y)} />
      {events.map(({ at, kind, word }, index) => (
        <g key={index}>
          <title>{word}</title>
          {kind === 'pause' ? (
            <path className={css.pause} d={`M${x(at) - 2.5} ${top - 16}v12M${x(at) + 2.5} ${top - 16}v12`} />
          ) : (
            <circle className={css.fault} cx={x(at)} cy={top - 10} r="5" />
          )}
        </g>
      ))}
    </svg>
  )
}

/** The line of the medians; it breaks where nothing was timed. */
function pathOf(
  pieces: readonly PacePiece[],
  x: (at: number) => number,
  y: (seconds: number) => number,
): string {
  let isOn = false
  return pieces
    .map(({ from, to, seconds }) => {
      if (seconds === null) {
        isOn = false
        return ''
      }
      const start = `${isOn ? 'L' : 'M'}${x(from)} ${y(seconds)}`
      isOn = true
      return `${start}L${x(to)} ${y(seconds)}`
    })
    .join('')
}

/** The next even number of seconds over a value, so that the half of it is whole too. */
function niceTop(seconds: number): number {
  return Math.ceil((seconds * 1.05) / 2) * 2
}
