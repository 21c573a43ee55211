import { memo, useMemo } from 'react'
import { Button } from '../parts/button.tsx'
import { durationText, numberText } from '../parts/format.ts'
import { type Column, Table } from '../parts/table.tsx'
import type { Plan } from './plan.ts'
import css from './planner.module.css'
import { usePlannerHand, useText } from './plannerFields.tsx'
import { evennessText, type TurnView, tenthUm } from './turnView.ts'

type Choice = TurnView['choices'][number]

/** Numbers of frames near the wish, the most even first; a press takes one. */
export const ClosingChoices = memo(function ClosingChoices({
  turn,
  stepMs,
}: Pick<Plan, 'turn'> & { readonly stepMs: number }) {
  const { patch } = usePlannerHand()
  const isByFrames = useText('stepIn') === 'frames'
  const isStep = turn.framesKey === 'step'
  const columns = useMemo<readonly Column<Choice>[]>(
    () => [
      {
        key: 'frames',
        head: 'Frames a turn',
        tight: true,
        cell: (choice) => (
          <Button
            kind="quiet"
            aria-pressed={(isByFrames || !isStep) && choice.frames === turn.frames}
            onClick={() =>
              patch({ ...(isStep ? { stepIn: 'frames' } : {}), [turn.framesKey]: String(choice.frames) })
            }
          >
            {`${choice.frames} frames`}
          </Button>
        ),
      },
      { key: 'step', head: 'Step', figure: true, cell: (choice) => `${tenthUm(choice.stepUm10)} mm` },
      { key: 'marks', head: 'Steps on this tape', cell: evennessText },
      {
        key: 'jump',
        head: 'Worst jump',
        figure: true,
        cell: (choice) =>
          choice.jumpPart === 0 ? 'none' : `${numberText(choice.jumpPart * 100, 0)} % of a step`,
      },
      {
        key: 'sets',
        head: 'Even sets',
        cell: (choice) => (choice.evenSets.length === 0 ? 'none' : choice.evenSets.join(' ')),
      },
      {
        key: 'time',
        head: 'Turning a spin',
        figure: true,
        cell: (choice) => durationText((framesWith(choice.frames, turn) * stepMs) / 60_000),
      },
    ],
    [patch, isByFrames, isStep, turn, stepMs],
  )
  if (turn.choices.length === 0) {
    return (
      <p className={css.note}>The tape cannot be read as finely as this step. Print a rim strip for it.</p>
    )
  }
  return (
    <div className={css.stack}>
      <h3>Turns that close, the most even first</h3>
      <div className={css.choices}>
        <Table
          caption="Turns that close on this rim"
          columns={columns}
          rows={turn.choices}
          keyOf={(choice) => choice.frames}
          empty={null}
        />
      </div>
      <p className={css.note}>
        A rim strip printed for the turn closes with any number of frames, every step alike: see Prints.
      </p>
    </div>
  )
})

/** Frames to shoot of a spin if the shown row, and all that share its frames, had so many a turn. */
function framesWith(frames: number, turn: TurnView): number {
  return turn.framesToShoot + (frames - turn.frames) * turn.rowsOfFrames
}
