import { mmFromUm10 } from '../../main/trade/length.ts'
import { stripUm10 } from '../../main/trade/turn/rim.ts'
import { checkBarMm, stripCorrection } from '../../main/trade/turn/strip.ts'
import { type Outcome, workedOut } from './reading.ts'
import type { TurnView } from './turnView.ts'
import type { Typed } from './typed.ts'

/** What a rim strip is printed with. */
export interface PrintsView {
  readonly tapeMm: number
  readonly paperMm: number
  /** What the check bar of the last print measured, and the correction that it was printed with. */
  readonly lastPrint: { readonly measuredMm: number; readonly correction: number }
  /** Frames of a coarser loop that the strip marks; null where none is asked for. */
  readonly loopFrames: number | null
  /** The closed strip of that thickness on this rim. */
  readonly stripUm10: number
}

/** Sizes for the strip. A rim reckoned from a diameter already says which tape it is for. */
export function printsView(typed: Typed, turn: TurnView): Outcome<PrintsView> {
  return workedOut(
    typed,
    { paper: 'paperThick', tape: 'tape', measuredMm: 'measured', correction: 'measured' },
    (reader) => ({
      tapeUm10: typed.rimBy === 'reading' ? reader.um10('tape', 'The tape’s thickness') : turn.tapeUm10,
      paperUm10: reader.um10('paperThick', 'The strip’s thickness'),
      measuredMm: typed.measured.trim() === '' ? checkBarMm : reader.mm('measured', 'The check bar'),
      correction: reader.number('printedWith', 'The correction', 6),
      loopFrames: reader.maybeWhole('markLoop', 'The marked loop', {
        least: 1,
        most: turn.frames,
        unit: 'frames',
      }),
    }),
    ({ tapeUm10, paperUm10, measuredMm, correction, loopFrames }) => {
      stripCorrection(measuredMm, correction)
      return {
        tapeMm: mmFromUm10(tapeUm10),
        paperMm: mmFromUm10(paperUm10),
        lastPrint: { measuredMm, correction },
        loopFrames,
        stripUm10: stripUm10(turn.rimUm10, tapeUm10, paperUm10),
      }
    },
  )
}
