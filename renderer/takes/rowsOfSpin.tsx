import type { Answers } from '../../main/api/types.ts'
import { type CameraChange, cameraChange } from '../../main/trade/benchRows.ts'
import { lookingText } from '../../main/trade/looking.ts'
import { Ring } from '../parts/ring.tsx'
import { api, useAsk } from '../shell/api.ts'
import css from './turning.module.css'

export type RowOfSpin = Answers['preparation']['rows'][number]

/** The rows of the take's spin, asked for where there is more than one. */
export function useRows(takeId: number, rows: number): readonly RowOfSpin[] {
  const answer = useAsk(['preparation', 'rows', takeId], () => api.preparation.rows.query({ takeId }), {
    when: rows > 1,
  })
  return rows > 1 ? (answer.data ?? []) : []
}

/** What the camera does between the row before and this one; undefined while the rows are on their way. */
export function changeToRow(rows: readonly RowOfSpin[], row: number): CameraChange | undefined {
  const here = rows.find((one) => one.row === row)
  return (
    here &&
    cameraChange(
      rows.find((one) => one.row === row - 1),
      here,
    )
  )
}

/** A ring for each row, the one that turns now filling; the others whole or empty. */
export function RowRings(props: {
  readonly rows: readonly RowOfSpin[]
  readonly row: number
  /** Frames of this row shot so far. */
  readonly done: number
}) {
  if (props.rows.length < 2) return null
  return (
    <ul className={css.rows}>
      {props.rows.map(({ row, framesPerTurn, overlapFrames, viewAngleDeg, isKept }) => (
        <li key={row} aria-current={row === props.row ? 'step' : undefined}>
          <Ring
            size={40}
            framesPerTurn={framesPerTurn}
            overlap={overlapFrames}
            done={row === props.row ? props.done : isKept ? framesPerTurn + overlapFrames : 0}
            label=""
          />

          <span className={css.near} title={`looking ${lookingText(viewAngleDeg)}`}>
            {`row ${row}`}
            <br />
            <span className={css.quiet}>{row === props.row ? 'now' : isKept ? 'kept' : 'to come'}</span>
          </span>
        </li>
      ))}
    </ul>
  )
}
