import { memo, useState } from 'react'
import { readDecimal } from '../../main/trade/decimal.ts'
import { mmFromUm10 } from '../../main/trade/length.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { checkBarMm } from '../../main/trade/turn/strip.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { FieldLine, FormRefusal } from '../parts/form.tsx'
import { numberText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { readLength } from '../parts/read-length.ts'
import { api, useAct } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import css from './planner.module.css'
import { Choosing, Ticking, Typing, usePlannerHand, useText } from './plannerFields.tsx'
import type { TurnView } from './turnView.ts'
import type { Typed } from './typed.ts'

/** The mark table and the rim strip of the planned turn, as papers for the bench. */
export const PrintsPart = memo(function PrintsPart(props: {
  readonly turn: TurnView
  readonly setFrames: number
  /** The view angles of the rows as far as they are settled. */
  readonly angles: readonly number[]
}) {
  const { turn } = props
  const { typed, patch } = usePlannerHand()
  const isReading = useText('rimBy') === 'reading'
  const marksSet = useText('markSet') === 'yes'
  const printedWith = useText('printedWith')
  const [wrong, setWrong] = useState<string>()
  const paper = useText('paper') === 'Letter' ? 'Letter' : 'A4'
  const rimMm = mmFromUm10(turn.rimUm10)
  const table = useAct(
    () =>
      api.prints.markTable.mutate({
        rimMm,
        divisionMm: mmFromUm10(turn.divisionUm10),
        views: Array.from({ length: turn.rows }, (_, row) => ({
          viewAngleDeg: props.angles[row] ?? null,
          frames: turn.frames,
          overlap: turn.overlap,
        })),
        paper,
      }),
    ({ paperId }) => openPaper(paperId),
  )
  const strip = useAct(
    (sizes: StripSizes) =>
      api.prints.rimStrip.mutate({
        rimMm,
        tapeMm: sizes.tapeMm,
        paperMm: sizes.paperMm,
        frames: turn.frames,
        setFrames: marksSet ? props.setFrames : null,
        loopFrames: null,
        paper,
        lastPrint: sizes.lastPrint,
      }),
    ({ paperId, correction }) => {
      // What was measured is in the new print; the next measuring begins from it.
      patch({ printedWith: String(Math.round(correction * 1e6) / 1e6), measured: '' })
      openPaper(paperId)
    },
  )
  const printStrip = () => {
    try {
      setWrong(undefined)
      strip.run(stripSizes(typed.get(), turn))
    } catch (error) {
      if (!(error instanceof Refusal)) throw error
      setWrong(error.message)
    }
  }
  const refusal = wrong ?? strip.refusal?.sentence ?? table.refusal?.sentence
  return (
    <Part title="Prints">
      <FieldLine>
        <Choosing
          name="paper"
          label="Paper"
          options={[
            { value: 'A4', label: 'A4' },
            { value: 'Letter', label: 'US Letter' },
          ]}
        />
        {isReading ? <Typing name="tape" label="Thickness of the tape" unit="mm" /> : null}
        <Typing name="paperThick" label="Thickness of the strip" unit="mm" />
        <Typing name="measured" label="Check bar measured" unit="mm" placeholder={String(checkBarMm)} />
      </FieldLine>
      <Ticking name="markSet" label={`Mark the set of ${props.setFrames} on the strip with triangles`} />
      <ButtonRow>
        <Button busy={table.busy} onClick={() => table.run()}>
          Print the mark table
        </Button>
        <Button busy={strip.busy} onClick={printStrip}>
          Print the rim strip
        </Button>
      </ButtonRow>
      {refusal ? <FormRefusal sentence={refusal} /> : null}
      <p className={css.note}>
        {`Print the strip at 100 %. Its check bar must measure ${checkBarMm} mm; if it does not, enter what you measured and print again. ${correctionText(printedWith)} A strip thinner than the tape is cut shorter, so that it too closes on the rim.`}
      </p>
    </Part>
  )
})

interface StripSizes {
  readonly tapeMm: number
  readonly paperMm: number
  readonly lastPrint: { readonly measuredMm: number; readonly correction: number } | null
}

/** Sizes as typed; refuses what cannot be read. A rim reckoned from a diameter already says which tape it is for. */
function stripSizes(typed: Typed, turn: TurnView): StripSizes {
  const length = (text: string, what: string) => mmFromUm10(readLength(text, 4, what))
  const correction = readDecimal(typed.printedWith, 6, 'The correction') / 1e6
  return {
    tapeMm:
      typed.rimBy === 'reading' ? length(typed.tape, 'The tape’s thickness') : mmFromUm10(turn.tapeUm10),
    paperMm: length(typed.paperThick, 'The strip’s thickness'),
    lastPrint: {
      measuredMm: typed.measured.trim() === '' ? checkBarMm : length(typed.measured, 'The check bar'),
      correction,
    },
  }
}

function correctionText(printedWith: string): string {
  const correction = Number(printedWith)
  if (!(correction > 0) || correction === 1) return ''
  return `It was last printed ${numberText(Math.abs(correction - 1) * 100)} % ${correction > 1 ? 'longer' : 'shorter'} to put the printer right.`
}
