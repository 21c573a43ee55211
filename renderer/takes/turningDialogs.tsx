import { useState } from 'react'
import { useNavigate } from 'react-router'
import { type FaultKind, faultKinds } from '../../main/trade/takes.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Confirm, Dialog } from '../parts/dialog.tsx'
import { CheckField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { countText, numberText } from '../parts/format.ts'
import { api, useAct } from '../shell/api.ts'
import css from './turning.module.css'
import type { TakePage, TurningState } from './turningState.ts'

interface OverTake {
  readonly page: TakePage
  readonly state: TurningState
  readonly onClose: () => void
}

/** One press says what went wrong; it may void the frame, or start the take again. */
export function FaultDialog({ page, state, onClose }: OverTake) {
  const takeId = page.take.id
  const frame = state.lastGood ?? null
  const [isVoid, setVoid] = useState(false)
  const [kind, setKind] = useState<FaultKind>()
  const navigate = useNavigate()
  const fault = useAct(async (kind: FaultKind) => {
    await api.takes.fault.mutate({ takeId, kind, frame })
    if (isVoid && frame !== null) await api.takes.voidFrame.mutate({ takeId, frame })
  }, onClose)
  const again = useAct(
    async (kind: FaultKind) => {
      await api.takes.fault.mutate({ takeId, kind, frame })
      return api.takes.again.mutate({ takeId, reason: kind })
    },
    ({ takeId: next }) => navigate(`/takes/${next}`, { replace: true }),
  )
  const refusal = fault.refusal ?? again.refusal
  return (
    <Dialog title={frame === null ? 'A fault' : `A fault at frame ${frame}`} onClose={onClose} wide>
      <div className={css.kinds}>
        {faultKinds.map((one) => (
          <button
            key={one}
            type="button"
            className={css.button}
            aria-pressed={kind === one}
            onClick={() => setKind(one)}
          >
            {one}
          </button>
        ))}
      </div>
      {frame === null ? null : (
        <CheckField label={`Make frame ${frame} void`} checked={isVoid} onChange={setVoid} />
      )}
      {refusal ? <FormRefusal sentence={refusal.sentence} /> : null}
      <ButtonRow>
        <Button
          large
          kind="main"
          disabled={kind === undefined}
          busy={fault.busy}
          onClick={() => kind && fault.run(kind)}
        >
          Write it down
        </Button>
        <Button large disabled={kind === undefined} busy={again.busy} onClick={() => kind && again.run(kind)}>
          Reject the take and start again
        </Button>
      </ButtonRow>
    </Dialog>
  )
}

/** Going back makes every frame from the mark on void. */
export function BackDialog({ page, state, onClose }: OverTake) {
  const [mark, setMark] = useState<number | null>(state.nextMark)
  const back = useAct(
    (mark: number) => api.takes.back.mutate({ takeId: page.take.id, mark: mark - 1 }),
    onClose,
  )
  const reading = mark === null ? undefined : page.marksMm[(mark - 1) % page.marksMm.length]
  return (
    <Dialog title="Back to a mark" onClose={onClose}>
      <Form refusal={back.refusal} onSubmit={() => mark !== null && back.run(mark)}>
        <NumberField
          label="Mark"
          name="mark"
          value={mark}
          onChange={setMark}
          hint={reading === undefined ? undefined : `Turn the platter back to ${numberText(reading, 4)} mm.`}
        />
        <p>
          {mark === null || mark > state.nextMark
            ? `The take has come to mark ${numberText(state.nextMark)}.`
            : 'Every frame from there on becomes void and is shot again. Its files stay on the card.'}
        </p>
        <ButtonRow>
          <Button large kind="main" type="submit" busy={back.busy}>
            Go back
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** Asks once more where the turn is not closed. */
export function EndDialog({ page, state, onClose }: OverTake) {
  const end = useAct(() => api.takes.end.mutate({ takeId: page.take.id }), onClose)
  const lacking = state.framesPerTurn - Math.min(state.nextMark, state.framesPerTurn) + state.missing.length
  return (
    <Confirm
      title="End the take here?"
      sentence={`The turn is not closed: ${countText(lacking, 'frame')} of ${numberText(state.framesPerTurn)} are lacking. A take that has ended cannot go on.`}
      act="End the take"
      busy={end.busy}
      refusal={end.refusal}
      onConfirm={() => end.run()}
      onClose={onClose}
    />
  )
}
