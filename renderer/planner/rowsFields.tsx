import { Button } from '../parts/button.tsx'
import { FieldLine } from '../parts/form.tsx'
import type { AnglesView } from './anglesView.ts'
import { degreesText } from './figures.ts'
import css from './planner.module.css'
import { Ticking, Typing, usePlannerHand, useText } from './plannerFields.tsx'
import { furtherRows, rowKey } from './rowTexts.ts'
import type { TurnView } from './turnView.ts'

/** Frames and overlap of further rows, once they are parted, and which row is drawn; nothing for a single row. */
export function RowsFields({ turn, angles }: { readonly turn: TurnView; readonly angles: AnglesView }) {
  const isParted = useText('parted') === 'yes'
  const further = useFurtherRows(turn.rows.length)
  const [first] = turn.rows
  if (!first || further.length === 0) return null
  return (
    <>
      <Ticking name="parted" label="Each row has its own frames" />
      {isParted ? (
        <>
          <ol className={css.rows}>
            {further.map((row) => (
              <li key={row}>
                <FieldLine>
                  <Typing
                    name={rowKey('frames', row)}
                    label={`Row ${row}, frames a turn`}
                    placeholder={String(first.frames)}
                  />
                  <Typing
                    name={rowKey('overlap', row)}
                    label={`Row ${row}, overlap`}
                    unit="frames"
                    placeholder={String(first.overlap)}
                  />
                </FieldLine>
              </li>
            ))}
          </ol>
          <RowChoice turn={turn} angles={angles} />
        </>
      ) : null}
    </>
  )
}

/**
 * The rows after the first that have fields: as many as are typed, since the plan may stand on fewer while one of them
 * is refused, and those of the plan where no number is typed.
 */
export function useFurtherRows(planned: number): readonly (typeof furtherRows)[number][] {
  const text = useText('rows').trim()
  const count = /^\d{1,2}$/u.test(text) ? Number(text) : planned
  return furtherRows.slice(0, Math.max(0, count - 1))
}

/** The label of a field that is the first row's once the rows are parted, and all rows' until then. */
export function useFirstRowLabel(label: string): string {
  const isParted = useText('parted') === 'yes'
  const isOneRow = useFurtherRows(1).length === 0
  return isParted && !isOneRow ? `Row 1, ${label.toLowerCase()}` : label
}

/** Which row the ring, its marks and the figures after it are of. */
function RowChoice({ turn, angles }: { readonly turn: TurnView; readonly angles: AnglesView }) {
  const { patch } = usePlannerHand()
  return (
    <fieldset className={css.rowChoice}>
      <legend>Row drawn</legend>
      {turn.rows.map((_, index) => {
        const row = index + 1
        const angle = angles[index]
        return (
          <Button
            key={row}
            kind="quiet"
            aria-pressed={row === turn.row}
            onClick={() => patch({ row: String(row) })}
          >
            {`Row ${row}${angle === undefined ? '' : `, ${degreesText(angle / 1000)}`}`}
          </Button>
        )
      })}
    </fieldset>
  )
}
