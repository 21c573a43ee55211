import { useState } from 'react'
import { useNavigate } from 'react-router'
import { missingMarks } from '../../main/trade/takes.ts'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Overrule } from '../parts/dialog.tsx'
import { TextField } from '../parts/field.tsx'
import { Form } from '../parts/form.tsx'
import { countText, numberText, secondsText } from '../parts/format.ts'
import { Ring } from '../parts/ring.tsx'
import { api, useAct } from '../shell/api.ts'
import { thisDevice } from './benchDevice.ts'
import css from './turning.module.css'
import { TakeHead } from './turning.tsx'
import { type TakePage, turningState } from './turningState.ts'

/** A take that has ended: what it is, and whether it is kept. */
export function Judging({ page }: { readonly page: TakePage }) {
  const { take } = page
  return (
    <>
      <TakeHead page={page} />
      <div className={css.middle}>
        <EndedRing page={page} />
        <div className={css.side}>
          <Sentences page={page} />
          {take.verdict === null ? <Verdict page={page} /> : <WhatNext page={page} />}
        </div>
      </div>
    </>
  )
}

function EndedRing({ page }: { readonly page: TakePage }) {
  const { take } = page
  const { nextMark, faultMarks } = turningState(page)
  const shot = isCountedByHand(page) ? (take.framesShot ?? 0) : nextMark
  return (
    <Ring
      size={420}
      framesPerTurn={take.framesPerTurn}
      tape={{ readings: page.marksMm, rim: page.rimUm10 / 10_000 }}
      done={shot}
      overlap={take.overlapFrames}
      faults={faultMarks}
      centre={{ figure: numberText(take.framesShot ?? 0), word: 'frames shot' }}
      label={`Take ${take.number} of ${page.spin}`}
    />
  )
}

function Sentences({ page }: { readonly page: TakePage }) {
  const { take, frames, faults } = page
  const missing = lackingFrames(page)
  const voids = frames.filter(({ isVoid }) => isVoid).length
  return (
    <div className={css.progress}>
      <p className={css.count}>
        {missing === 0
          ? 'The turn is closed.'
          : `${countText(missing, 'frame')} of the turn ${missing === 1 ? 'is' : 'are'} lacking.`}
      </p>
      <p className={css.quiet}>
        {[
          `${countText(take.framesShot ?? 0, 'frame')} shot`,
          voids > 0 ? `${numberText(voids)} void` : undefined,
          take.medianStepMs === null
            ? undefined
            : `${secondsText(take.medianStepMs / 1000)} a frame at the median`,
        ]
          .filter(Boolean)
          .join(', ')}
      </p>
      {faults.map(({ id, kind, frame }) => (
        <p key={id}>{frame === null ? kind : `${kind} at frame ${frame}`}</p>
      ))}
    </div>
  )
}

/** Where frames are lacking, taking it again is the main act. */
function Verdict({ page }: { readonly page: TakePage }) {
  const takeId = page.take.id
  const isWhole = lackingFrames(page) === 0
  const [reason, setReason] = useState(page.faults.map(({ kind }) => kind).join(', '))
  const navigate = useNavigate()
  const keep = useAct((reason: string | null) => api.takes.judge.mutate({ takeId, verdict: 'keep', reason }))
  const reject = useAct(() => api.takes.judge.mutate({ takeId, verdict: 'reject', reason }))
  const again = useAct(
    () => api.takes.again.mutate({ takeId, reason, holder: thisDevice() }),
    ({ takeId: next }) => navigate(`/takes/${next}`, { replace: true }),
  )
  const refused = reject.refusal ?? again.refusal ?? (keep.refusal?.canOverrule ? undefined : keep.refusal)
  return (
    <>
      <Button large kind={isWhole ? 'main' : 'plain'} busy={keep.busy} onClick={() => keep.run(null)}>
        Keep the take
      </Button>
      <Form refusal={refused} onSubmit={() => again.run()} label="Reject the take">
        <TextField
          label="Or what is wrong with it"
          name="reason"
          value={reason}
          onChange={setReason}
          width="wide"
        />
        <ButtonRow>
          <Button large type="submit" kind={isWhole ? 'plain' : 'main'} busy={again.busy}>
            Reject and start again
          </Button>
          <Button large busy={reject.busy} onClick={() => reject.run()}>
            Reject
          </Button>
        </ButtonRow>
      </Form>
      {keep.refusal?.canOverrule ? (
        <Overrule
          refusal={keep.refusal}
          act="Keep it"
          busy={keep.busy}
          onOverrule={(why) => keep.run(why)}
          onClose={keep.clear}
        />
      ) : null}
    </>
  )
}

/** After the verdict: the next row where one is left, or back to the job. */
function WhatNext({ page }: { readonly page: TakePage }) {
  const { take } = page
  const navigate = useNavigate()
  const next = useAct(
    () =>
      api.takes.start.mutate({
        shootId: take.shootId,
        // Counted by files arriving, as this one was.
        ...(take.countedBy === 'folder' && take.folder ? { folder: take.folder } : {}),
        holder: thisDevice(),
      }),
    ({ takeId }) => navigate(`/takes/${takeId}`),
  )
  const hasMore = take.verdict === 'reject' || take.row < page.rows
  return (
    <div className={css.progress}>
      <p className={css.count}>{take.verdict === 'keep' ? 'Kept.' : 'Rejected.'}</p>
      {take.verdictReason ? <p className={css.quiet}>{take.verdictReason}</p> : null}
      {next.refusal ? (
        <p className={css.refusal} role="alert">
          {next.refusal.sentence}
        </p>
      ) : null}
      <ButtonRow>
        {hasMore ? (
          <Button large kind="main" busy={next.busy} onClick={() => next.run()}>
            {take.verdict === 'keep' ? 'Turn the next row' : 'Take it again'}
          </Button>
        ) : null}
        <ButtonLink to={`/jobs/${page.jobId}/takes?spin=${take.shootId}`} kind={hasMore ? 'plain' : 'main'}>
          {`Takes of ${page.jobNumber}`}
        </ButtonLink>
      </ButtonRow>
    </div>
  )
}

/** Frames of the full turn that are not there, or are void. */
function lackingFrames(page: TakePage): number {
  const { take, frames } = page
  return isCountedByHand(page)
    ? Math.max(0, take.framesPerTurn - (take.framesShot ?? 0))
    : missingMarks(frames, take.framesPerTurn).length
}

/** Files that were counted, but not read: nobody knows their marks. */
function isCountedByHand({ take, frames }: TakePage): boolean {
  return take.countedBy === 'files' && frames.length === 0
}
