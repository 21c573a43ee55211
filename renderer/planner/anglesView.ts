import { Refusal } from '../../main/trade/refusal.ts'
import { nextViewAngleMdeg, twinRows, twinSentence } from '../../main/trade/turn/rows.ts'
import { type Outcome, workedOut } from './reading.ts'
import { rowKey } from './rowTexts.ts'
import type { Typed } from './typed.ts'

/** How far the camera looks down in every row, in thousandths of a degree. */
export type AnglesView = readonly number[]

/** The angles of so many rows; a further row for which none is typed stands a little higher than the one before. */
export function anglesView(typed: Typed, rowCount: number): Outcome<AnglesView> {
  return workedOut(
    typed,
    { angle: 'angle' },
    (reader) => {
      const read = (row: number) => {
        const text = row === 1 ? 'angle' : rowKey('angle', row)
        return Math.round(
          reader.number(text, 'The view angle', 3, { least: -90, most: 90, unit: '°' }) * 1000,
        )
      }
      const angles = [read(1)]
      for (let row = 2; row <= rowCount; row += 1) {
        const isTyped = typed[rowKey('angle', row)].trim() !== ''
        angles.push(isTyped ? read(row) : nextViewAngleMdeg(angles[row - 2] ?? 0, rowCount - row + 1))
      }
      const twins = twinRows(angles.map((viewAngleMdeg) => ({ viewAngleMdeg })))
      if (twins) reader.refuse(rowKey('angle', twins.row + 1), new Refusal('twin-rows', twinSentence(twins)))
      return angles
    },
    (angles) => angles,
  )
}
