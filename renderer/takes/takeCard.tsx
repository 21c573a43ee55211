import { useState } from 'react'
import { type FaultKind, faultKinds } from '../../main/trade/takes.ts'
import { LookDialog } from '../check/lookDialog.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Dialog, Overrule } from '../parts/dialog.tsx'
import { SelectField, TextArea, TextField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { countText, instantText, numberText, secondsText } from '../parts/format.ts'
import { Ring } from '../parts/ring.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './jobTakes.module.css'
import type { SpinTakes } from './jobTakes.tsx'
import { TakePaceDialog } from './takePace.tsx'
import { TakePicture, TakePictureDialog } from './takePicture.tsx'

type Take = SpinTakes['takes'][number]

/** One take: its ring, what went wrong, its verdict, and what can be done with it. */
export function TakeCard({ take, rows }: { readonly take: Take; readonly rows: number }) {
  const { timeZone } = useStudio()
  const [open, setOpen] = useState<'reject' | 'fault' | 'note' | 'pace' | 'picture' | 'look'>()
  const close = () => setOpen(undefined)
  return (
    <article className={css.take} aria-label={`Take ${take.number}`}>
      <Ring
        size={88}
        framesPerTurn={take.framesPerTurn}
        done={take.framesPerTurn - take.missingFrames}
        faults={take.faults.flatMap(({ mark, kind }) => (mark === null ? [] : [{ frame: mark + 1, kind }]))}
        label={`Take ${take.number}`}
      />
      <div className={css.told}>
        <h3>{`Take ${take.number}${rows > 1 ? `, row ${take.row}` : ''}: ${verdictWord(take)}`}</h3>
        {take.verdictReason ? <p>{take.verdictReason}</p> : null}
        <p className={css.quiet}>
          {[
            `${numberText(take.goodFrames)} of ${countText(take.framesPerTurn + take.overlapFrames, 'frame')}`,
            take.voidFrames > 0 ? `${numberText(take.voidFrames)} void` : undefined,
            take.missingFrames > 0 && take.endedAt !== null
              ? `${numberText(take.missingFrames)} of the turn lacking`
              : undefined,
            take.medianStepMs === null ? undefined : `${secondsText(take.medianStepMs / 1000)} a frame`,
          ]
            .filter(Boolean)
            .join(', ')}
        </p>
        <p className={css.quiet}>
          {`${instantText(take.startedAt, timeZone)}, ${take.personName}, ${take.rigName} rev. ${take.revision}${take.countedBy === 'files' ? ', counted by files' : ''}`}
        </p>
        {take.faults.map((fault) => (
          <p key={fault.id}>
            {[fault.kind, fault.frame === null ? undefined : `frame ${fault.frame}`, fault.note]
              .filter(Boolean)
              .join(', ')}
          </p>
        ))}
        {take.note ? <p>{take.note}</p> : null}
        <TakePicture take={take} />
        {take.endedAt === null ? null : (
          <ButtonRow>
            {take.verdict === 'keep' || !take.counts ? null : <KeepButton take={take} />}
            {take.verdict === 'reject' || !take.counts ? null : (
              <Button kind="quiet" onClick={() => setOpen('reject')}>
                Reject
              </Button>
            )}
            <Button kind="quiet" onClick={() => setOpen('fault')}>
              Fault
            </Button>
            <Button kind="quiet" onClick={() => setOpen('note')}>
              Note
            </Button>
            <Button kind="quiet" onClick={() => setOpen('picture')}>
              Picture
            </Button>
            <Button kind="quiet" onClick={() => setOpen('pace')}>
              Pace
            </Button>
            <Button kind="quiet" onClick={() => setOpen('look')}>
              Look
            </Button>
            <ButtonLink kind="quiet" to={`/takes/${take.id}/check`}>
              Check
            </ButtonLink>
          </ButtonRow>
        )}
      </div>
      {open === 'reject' ? <RejectDialog take={take} onClose={close} /> : null}
      {open === 'fault' ? <FaultForm take={take} onClose={close} /> : null}
      {open === 'note' ? <NoteForm take={take} onClose={close} /> : null}
      {open === 'picture' ? <TakePictureDialog take={take} onClose={close} /> : null}
      {open === 'look' ? <LookDialog takeId={take.id} number={take.number} onClose={close} /> : null}
      {open === 'pace' ? <TakePaceDialog takeId={take.id} number={take.number} onClose={close} /> : null}
    </article>
  )
}

function verdictWord(take: Take): string {
  if (take.endedAt === null) return 'running'
  if (!take.counts) return 'before the reshoot'
  if (take.verdict === null) return 'no verdict yet'
  return take.verdict === 'keep' ? 'kept' : 'rejected'
}

function KeepButton({ take }: { readonly take: Take }) {
  const keep = useAct((reason: string | null) =>
    api.takes.judge.mutate({ takeId: take.id, verdict: 'keep', reason }),
  )
  return (
    <>
      <Button busy={keep.busy} onClick={() => keep.run(null)}>
        Keep
      </Button>
      {keep.refusal ? (
        <Overrule
          refusal={keep.refusal}
          act="Keep it"
          busy={keep.busy}
          onOverrule={(reason) => keep.run(reason)}
          onClose={keep.clear}
        />
      ) : null}
    </>
  )
}

interface OverTake {
  readonly take: Take
  readonly onClose: () => void
}

function RejectDialog({ take, onClose }: OverTake) {
  const [reason, setReason] = useState(take.faults.map(({ kind }) => kind).join(', '))
  const reject = useAct(() => api.takes.judge.mutate({ takeId: take.id, verdict: 'reject', reason }), onClose)
  return (
    <Dialog title={`Reject take ${take.number}`} onClose={onClose}>
      <Form refusal={reject.refusal} onSubmit={() => reject.run()}>
        <TextField
          label="What is wrong with it"
          name="reason"
          value={reason}
          onChange={setReason}
          width="wide"
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={reject.busy}>
            Reject the take
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

function FaultForm({ take, onClose }: OverTake) {
  const [kind, setKind] = useState<FaultKind>('flicker')
  const [frame, setFrame] = useState<number | null>(null)
  const [note, setNote] = useState('')
  const fault = useAct(() => api.takes.fault.mutate({ takeId: take.id, kind, frame, note }), onClose)
  return (
    <Dialog title={`A fault of take ${take.number}`} onClose={onClose}>
      <Form refusal={fault.refusal} onSubmit={() => fault.run()}>
        <FieldLine>
          <SelectField
            label="Fault"
            name="kind"
            value={kind}
            options={faultKinds.map((value) => ({ value, label: value }))}
            onChange={setKind}
          />
          <NumberField
            label="Frame"
            name="frame"
            value={frame}
            onChange={setFrame}
            width="narrow"
            hint="Empty: all of it"
          />
        </FieldLine>
        <TextField label="Note" name="note" value={note} onChange={setNote} width="wide" />
        <ButtonRow>
          <Button type="submit" kind="main" busy={fault.busy}>
            Write it down
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

function NoteForm({ take, onClose }: OverTake) {
  const [note, setNote] = useState(take.note ?? '')
  const write = useAct(() => api.takes.note.mutate({ takeId: take.id, note }), onClose)
  return (
    <Dialog title={`Note of take ${take.number}`} onClose={onClose}>
      <Form refusal={write.refusal} onSubmit={() => write.run()}>
        <TextArea label="Note" name="note" value={note} onChange={setNote} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={write.busy}>
            Keep the note
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
