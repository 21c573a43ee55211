import { useState } from 'react'
import { Link, useNavigate } from 'react-router'
import { cameraChange } from '../../main/trade/benchRows.ts'
import { type FaultKind, faultKinds, missingMarks } from '../../main/trade/takes.ts'
import { JudgedCheck } from '../check/judgedCheck.tsx'
import { Overrule } from '../parts/dialog.tsx'
import { TextField } from '../parts/field.tsx'
import { Form } from '../parts/form.tsx'
import { countText, numberText, secondsText } from '../parts/format.ts'
import { Ring } from '../parts/ring.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { thisDevice } from './benchDevice.ts'
import { RowRings, useRows } from './rowsOfSpin.tsx'
import { TickList } from './tickList.tsx'
import css from './turning.module.css'
import { useDigits } from './turningBack.tsx'
import { BenchButton } from './turningButtons.tsx'
import { TakeHead } from './turningHead.tsx'
import { type TakePage, turningState } from './turningState.ts'
import { RowNotice } from './turningWords.tsx'

/** A take that has ended: what it is, and whether it is kept. */
export function Judging({ page }: { readonly page: TakePage }) {
  const { take } = page
  return (
    <>
      <TakeHead page={page} />
      <div className={`${css.middle} ${css.judged}`}>
        <div className={css.dialPlace}>
          <EndedRing page={page} />
          <JudgedCheck page={page} />
        </div>
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
      size={300}
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

/**
 * Keep or reject, and why. The kinds of fault are one press each; where frames are lacking, or a fault is named,
 * taking it again is the main act.
 */
function Verdict({ page }: { readonly page: TakePage }) {
  const takeId = page.take.id
  const isWhole = lackingFrames(page) === 0
  // What is known to be wrong is named already, also what is agreed to while one looks; a press turns it.
  const [turned, setTurned] = useState<readonly FaultKind[]>([])
  const kinds = faultKinds.filter(
    (one) => page.faults.some(({ kind }) => kind === one) !== turned.includes(one),
  )
  const [more, setMore] = useState('')
  const navigate = useNavigate()
  const reason = [...kinds, more.trim()].filter(Boolean).join(', ')
  const keep = useAct((why: string | null) =>
    api.takes.judge.mutate({ takeId, verdict: 'keep', reason: why }),
  )
  const reject = useAct(() => api.takes.judge.mutate({ takeId, verdict: 'reject', reason }))
  const again = useAct(
    () => api.takes.again.mutate({ takeId, reason, holder: thisDevice() }),
    ({ takeId: next }) => navigate(`/takes/${next}`, { replace: true }),
  )
  const turn = (kind: FaultKind) =>
    setTurned(turned.includes(kind) ? turned.filter((one) => one !== kind) : [...turned, kind])
  useDigits((digit) => {
    const kind = faultKinds[digit - 1]
    if (kind) turn(kind)
  })
  const refused = reject.refusal ?? again.refusal ?? (keep.refusal?.canOverrule ? undefined : keep.refusal)
  const isWrong = !isWhole || reason !== ''
  return (
    <>
      <BenchButton word="Keep the take" main={!isWrong} wide onPress={() => keep.run(null)} />
      <Form refusal={refused} onSubmit={() => again.run()} label="Reject the take">
        <fieldset className={css.faults}>
          <legend className={css.near}>Or what is wrong with it</legend>
          <div className={css.kinds}>
            {faultKinds.map((kind, index) => (
              <BenchButton
                key={kind}
                word={kind}
                hint={String(index + 1)}
                isPressed={kinds.includes(kind)}
                onPress={() => turn(kind)}
              />
            ))}
          </div>
        </fieldset>
        <TextField label="In other words" name="reason" value={more} onChange={setMore} width="wide" />
        <div className={css.choices}>
          <BenchButton word="Reject and start again" main={isWrong} onPress={() => again.run()} />
          <BenchButton word="Reject" onPress={() => reject.run()} />
        </div>
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

/** After the verdict: the next row at once where one is left; else putting the product away, and back to the job. */
function WhatNext({ page }: { readonly page: TakePage }) {
  const { take } = page
  const navigate = useNavigate()
  const rows = useRows(take.id, page.rows)
  const toCome = rows.find(({ isKept, row }) => !isKept && row !== take.row)
  const next = useAct(
    (overruleReason: string | null) =>
      api.takes.start.mutate({
        shootId: take.shootId,
        overruleReason,
        // Counted by files arriving, as this one was.
        ...(take.countedBy === 'folder' && take.folder ? { folder: take.folder } : {}),
        holder: thisDevice(),
      }),
    ({ takeId }) => navigate(`/takes/${takeId}`),
  )
  const isKept = take.verdict === 'keep'
  const change =
    toCome &&
    cameraChange(
      rows.find(({ row }) => row === take.row),
      toCome,
    )
  const hasMore = !isKept || toCome !== undefined
  return (
    <div className={css.progress}>
      <p className={css.count}>{isKept ? 'Kept.' : 'Rejected.'}</p>
      {take.verdictReason ? <p className={css.quiet}>{take.verdictReason}</p> : null}
      {isKept && toCome && change ? <RowNotice row={toCome.row} rows={page.rows} change={change} /> : null}
      <RowRings rows={rows} row={0} done={0} />
      {isKept && !hasMore ? <PutAway takeId={take.id} /> : null}
      {next.refusal?.canOverrule ? (
        <Overrule
          refusal={next.refusal}
          act="Start it all the same"
          busy={next.busy}
          onOverrule={(why) => next.run(why)}
          onClose={next.clear}
        />
      ) : next.refusal ? (
        <p className={css.refusal} role="alert">
          {next.refusal.sentence}
        </p>
      ) : null}
      <div className={css.choices}>
        {hasMore ? (
          <BenchButton
            word={isKept ? 'Turn the next row' : 'Take it again'}
            main
            wide
            onPress={() => next.run(null)}
          />
        ) : null}
        <Link className={css.button} to={`/jobs/${page.jobId}/takes?spin=${take.shootId}`}>
          {`Takes of ${page.jobNumber}`}
        </Link>
      </div>
    </div>
  )
}

/** What is done to the product once it leaves the platter. */
function PutAway({ takeId }: { readonly takeId: number }) {
  const steps = useAsk(['preparation', 'after', takeId], () => api.preparation.after.query({ takeId }))
  if (!steps.data?.length) return null
  return <TickList of={`away ${takeId}`} title="Putting away" items={steps.data.map((text) => ({ text }))} />
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
