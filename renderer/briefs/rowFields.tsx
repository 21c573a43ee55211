import { mostRows } from '../../main/trade/turn/rows.ts'
import { Button } from '../parts/button.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import css from './briefForm.module.css'
import { nextRow, type RowValue } from './briefValue.ts'

/** The rows of a spin, each with its viewing angle, frames and overlap; one can be chosen where `onShow` is given. */
export function RowFields(props: {
  readonly rows: readonly RowValue[]
  readonly onChange: (rows: readonly RowValue[]) => void
  /** The index of the row that is drawn beside the fields, and how another one is. */
  readonly shown?: number
  readonly onShow?: (index: number) => void
}) {
  const { rows, onChange } = props
  const patch = (at: number, some: Partial<RowValue>) =>
    onChange(rows.map((row, index) => (index === at ? { ...row, ...some } : row)))
  return (
    <>
      <ol className={css.items}>
        {rows.map((row, index) => (
          <li key={row.key} className={css.row} aria-label={`Row ${index + 1}`}>
            <RowNumber index={index} isShown={index === props.shown} onShow={props.onShow} />
            <NumberField
              label="Viewing angle"
              name={`rows.${index}.viewAngleMdeg`}
              unit="°"
              places={3}
              value={row.viewAngleMdeg}
              onChange={(viewAngleMdeg) => patch(index, { viewAngleMdeg })}
            />
            <NumberField
              label="Frames per turn"
              name={`rows.${index}.framesPerTurn`}
              value={row.framesPerTurn}
              onChange={(framesPerTurn) => patch(index, { framesPerTurn })}
            />
            <NumberField
              label="Overlap"
              name={`rows.${index}.overlapFrames`}
              unit="frames"
              value={row.overlapFrames}
              onChange={(overlapFrames) => patch(index, { overlapFrames })}
            />
            <span className={css.remove}>
              <Button
                kind="quiet"
                disabled={rows.length === 1}
                aria-label={`Take away row ${index + 1}`}
                onClick={() => onChange(rows.toSpliced(index, 1))}
              >
                Take away
              </Button>
            </span>
          </li>
        ))}
      </ol>
      <div>
        <Button disabled={rows.length >= mostRows} onClick={() => onChange([...rows, nextRow(rows)])}>
          Add a row
        </Button>
      </div>
    </>
  )
}

/** The number of a row; pressed, it is the one that is drawn. */
function RowNumber(props: {
  readonly index: number
  readonly isShown: boolean
  readonly onShow: ((index: number) => void) | undefined
}) {
  const { index, isShown, onShow } = props
  if (!onShow) return <span className={css.number}>{index + 1}</span>
  return (
    <span className={css.choose}>
      <Button kind="quiet" aria-pressed={isShown} onClick={() => onShow(index)}>
        {`Row ${index + 1}`}
      </Button>
    </span>
  )
}
