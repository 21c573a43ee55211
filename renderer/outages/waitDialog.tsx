import { useState } from 'react'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog, Overrule } from '../parts/dialog.tsx'
import { Form } from '../parts/form.tsx'
import { clockText, countText, weekdayText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'

/** A block, and where it finds room. */
export interface Move {
  readonly bookingId: number
  readonly benchId: number
  readonly bench: string
  readonly jobNumber: string
  readonly day: string
  readonly fromMinute: number
  readonly daysLate: number
}

/** Asks before blocks are moved to after the return, and says where each goes. */
export function WaitDialog(props: {
  readonly name: string
  readonly moves: readonly Move[]
  readonly onClose: () => void
}) {
  const { today } = useStudio()
  const say = useNotice()
  // What was asked stays, though the list behind it is answered anew.
  const [moves] = useState(props.moves)
  const wait = useAct(
    (reason: string | null) =>
      api.outages.wait.mutate({
        moves: moves.map(({ bookingId, benchId, day, fromMinute }) => ({
          bookingId,
          benchId,
          day,
          fromMinute,
        })),
        overruledReason: reason,
      }),
    () => {
      say(`${countText(moves.length, 'block')} moved to after ${props.name} is back.`)
      props.onClose()
    },
  )
  if (wait.refusal?.canOverrule) {
    return (
      <Overrule
        refusal={wait.refusal}
        act="Move them all the same"
        busy={wait.busy}
        onOverrule={(reason) => wait.run(reason)}
        onClose={props.onClose}
      />
    )
  }
  return (
    <Dialog title={`Let ${countText(moves.length, 'block')} wait?`} onClose={props.onClose}>
      <Form refusal={wait.refusal} onSubmit={() => wait.run(null)}>
        <p>{`They move to after ${props.name} is back, each with its set change, in one go or not at all.`}</p>
        <ul>
          {moves.map((move) => (
            <li key={move.bookingId}>
              {`${move.jobNumber}: ${weekdayText(move.day, today)}, ${clockText(move.fromMinute)}, ${move.bench}`}
              {move.daysLate > 0 ? (
                <span className={words.late}>{`, ${countText(move.daysLate, 'day')} late`}</span>
              ) : null}
            </li>
          ))}
        </ul>
        <ButtonRow>
          <Button type="submit" kind="main" busy={wait.busy}>
            {moves.length === 1 ? 'Move it' : 'Move them'}
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
