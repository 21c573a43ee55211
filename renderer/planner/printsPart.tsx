import { memo } from 'react'
import { mmFromUm10 } from '../../main/trade/length.ts'
import { checkBarMm } from '../../main/trade/turn/strip.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { FieldLine, FormRefusal } from '../parts/form.tsx'
import { numberText, um10Text } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { api, useAct } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import type { AnglesView } from './anglesView.ts'
import css from './planner.module.css'
import { Choosing, Ticking, Typing, usePlannerHand, useText } from './plannerFields.tsx'
import type { PrintsView } from './printsView.ts'
import { areRowsAlike, type TurnView } from './turnView.ts'

/** The mark table and the rim strip of the planned turn, as papers for the bench. */
export const PrintsPart = memo(function PrintsPart(props: {
  readonly turn: TurnView
  readonly prints: PrintsView
  /** True while a figure that the table, or the strip, is printed from is refused. */
  readonly isTableWrong: boolean
  readonly isWrong: boolean
  readonly setFrames: number
  readonly angles: AnglesView
}) {
  const { turn, prints } = props
  const { patch } = usePlannerHand()
  const isReading = useText('rimBy') === 'reading'
  const marksSet = useText('markSet') === 'yes'
  const printedWith = useText('printedWith')
  const paper = useText('paper') === 'Letter' ? 'Letter' : 'A4'
  const rimMm = mmFromUm10(turn.rimUm10)
  const table = useAct(
    () =>
      api.prints.markTable.mutate({
        rimMm,
        divisionMm: mmFromUm10(turn.divisionUm10),
        views: turn.rows.map(({ frames, overlap }, row) => ({
          viewAngleDeg: (props.angles[row] ?? 0) / 1000,
          frames,
          overlap,
        })),
        paper,
      }),
    ({ paperId }) => openPaper(paperId),
  )
  const strip = useAct(
    () =>
      api.prints.rimStrip.mutate({
        rimMm,
        tapeMm: prints.tapeMm,
        paperMm: prints.paperMm,
        frames: turn.frames,
        setFrames: marksSet ? props.setFrames : null,
        loopFrames: prints.loopFrames,
        paper,
        lastPrint: prints.lastPrint,
      }),
    ({ paperId, correction }) => {
      // What was measured is in the new print; the next measuring begins from it.
      patch({ printedWith: String(Math.round(correction * 1e6) / 1e6), measured: '' })
      openPaper(paperId)
    },
  )
  const refusal = strip.refusal?.sentence ?? table.refusal?.sentence
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
        <Typing name="markLoop" label="Mark a loop of" unit="frames" />
      </FieldLine>
      <Ticking name="markSet" label={`Mark the set of ${props.setFrames} on the strip with triangles`} />
      <p className={css.note}>
        Where a coarser loop is taken out of the turn, its frames get rings. Leave it empty where every frame
        is in the loop.
      </p>
      <ButtonRow>
        <Button busy={table.busy} disabled={props.isTableWrong} onClick={() => table.run()}>
          Print the mark table
        </Button>
        <Button busy={strip.busy} disabled={props.isWrong} onClick={() => strip.run()}>
          Print the rim strip
        </Button>
      </ButtonRow>
      {areRowsAlike(turn) ? null : (
        <p className={css.note}>
          {`The mark table holds every row; the strip is that of row ${turn.row}, with ${turn.frames} marks. All rows share its start mark.`}
        </p>
      )}
      {refusal ? <FormRefusal sentence={refusal} /> : null}
      <p className={css.note}>
        {`Print the strip at 100 %. Its check bar must measure ${checkBarMm} mm; if it does not, enter what you measured and print again. ${correctionText(printedWith)} The strip is ${um10Text(prints.stripUm10)} long: where it is thinner than the tape it is cut shorter, so that it too closes on the rim.`}
      </p>
    </Part>
  )
})

function correctionText(printedWith: string): string {
  const correction = Number(printedWith)
  if (!(correction > 0) || correction === 1) return ''
  return `It was last printed ${numberText(Math.abs(correction - 1) * 100)} % ${correction > 1 ? 'longer' : 'shorter'} to put the printer right.`
}
