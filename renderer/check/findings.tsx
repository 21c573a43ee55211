import { isOffCentre, nudgeCautions } from '../../main/trade/check/centre/centreWords.ts'
import type { Finding } from '../../main/trade/check/finding.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { numberText } from '../parts/format.ts'
import { api, useAct } from '../shell/api.ts'
import { type Answered, standingOf } from './answered.ts'
import { MarkShape } from './checkStrip.tsx'
import css from './findings.module.css'
import { runsText } from './stripGeometry.ts'

/** What the check found: what is about the whole take first, then in the order of the frames. */
export function Findings(props: {
  readonly takeId: number
  readonly findings: readonly Finding[]
  readonly answers: readonly Answered[]
  /** Said where there is nothing. */
  readonly none: string
  readonly onFrame: (frame: number, findings: readonly Finding[]) => void
}) {
  const { findings, answers } = props
  if (findings.length === 0) return <p>{props.none}</p>
  // What was answered stays where it is: a list that sorts itself under the hand is pressed wrongly.
  return (
    <ul className={css.findings} aria-label="What the check found">
      {findings.map((finding) => (
        <li key={finding.key}>
          <OneFinding takeId={props.takeId} finding={finding} answers={answers} onFrame={props.onFrame} />
        </li>
      ))}
    </ul>
  )
}

/** One finding: what it is, where, and what a person says of it. */
export function OneFinding(props: {
  readonly takeId: number
  readonly finding: Finding
  readonly answers: readonly Answered[]
  readonly onFrame?: (frame: number, findings: readonly Finding[]) => void
}) {
  const { takeId, finding, onFrame } = props
  const { key, sentence, frames, fault } = finding
  const standing = standingOf(finding, props.answers)
  const agree = useAct(() => api.takeCheck.agree.mutate({ takeId, key, note: null }))
  const waveOff = useAct(() => api.takeCheck.waveOff.mutate({ takeId, key, note: null }))
  const undo = useAct(() => api.takeCheck.undo.mutate({ takeId, key }))
  const refusal = agree.refusal ?? waveOff.refusal ?? undo.refusal
  const [first] = frames
  return (
    <div className={standing === 'none' ? `${css.finding} ${css.off}` : css.finding}>
      <MarkShape standing={standing} />
      <div className={css.told}>
        <p>{sentence}</p>
        {isOffCentre(key) && standing !== 'none'
          ? nudgeCautions.map((caution) => (
              <p key={caution} className={css.said}>
                {caution}
              </p>
            ))
          : null}
        {frames.length > 1 ? <p className={css.frames}>{`frames ${runsText(frames)}`}</p> : null}
        {standing === 'fault' ? <p className={css.said}>{`A fault of the take: ${fault}.`}</p> : null}
        {standing === 'none' ? (
          <p className={css.said}>{fault === null ? 'Read.' : 'It is none, a person said.'}</p>
        ) : null}
        <ButtonRow>
          {standing === 'open' ? (
            <Button busy={agree.busy} onClick={() => agree.run()}>
              It is a fault
            </Button>
          ) : null}
          {standing === 'open' || standing === 'known' ? (
            <Button busy={waveOff.busy} onClick={() => waveOff.run()}>
              {fault === null ? 'I have read it' : 'It is none'}
            </Button>
          ) : (
            <Button kind="quiet" busy={undo.busy} onClick={() => undo.run()}>
              Take that back
            </Button>
          )}
          {onFrame && first !== undefined ? (
            <Button kind="quiet" onClick={() => onFrame(first, [finding])}>
              {`Look at frame ${numberText(first)}`}
            </Button>
          ) : null}
        </ButtonRow>
        {refusal ? <FormRefusal sentence={refusal.sentence} /> : null}
      </div>
    </div>
  )
}
