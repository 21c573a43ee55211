import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { filedNotices } from '../../main/trade/filedNotices.ts'
import { corrected } from '../../main/trade/filedTake.ts'
import { numberGaps } from '../../main/trade/frameFiles.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Overrule } from '../parts/dialog.tsx'
import { CheckField } from '../parts/field.tsx'
import { Form } from '../parts/form.tsx'
import { api, useAct } from '../shell/api.ts'
import { type Clock, ClockFields, clockAheadMs, clockRight } from './clockFields.tsx'
import { CountWithoutFiles } from './countWithoutFiles.tsx'
import { FilesFound, FirstAndLast } from './filesFound.tsx'
import css from './jobTakes.module.css'
import { PlannedTake } from './plannedTake.tsx'
import { ReadFolder } from './readFolder.tsx'
import { type Plan, StandFields, standOf } from './standFields.tsx'

export type Found = Extract<NonNullable<Answers['frameFolders']['reading']>, { state: 'done' }>

/** Writes down a take that was not counted here: by its files, or without them. */
export function CountTake({ shootId, onClose }: { readonly shootId: number; readonly onClose: () => void }) {
  const [isByHand, setByHand] = useState(false)
  return (
    <PlannedTake title="Count a take by its files" shootId={shootId} onClose={onClose}>
      {(plan) => (
        <>
          <ButtonRow>
            <Button kind="quiet" onClick={() => setByHand(!isByHand)}>
              {isByHand ? 'Read the files after all' : 'Write it down without the files'}
            </Button>
          </ButtonRow>
          {isByHand ? (
            <CountWithoutFiles plan={plan} onClose={onClose} />
          ) : (
            <ReadFolder>
              {(found) => <CountFiles key={found.folder} plan={plan} found={found} onClose={onClose} />}
            </ReadFolder>
          )}
        </>
      )}
    </PlannedTake>
  )
}

/** The files that were read: which of them are the take, and what is odd about them. */
function CountFiles(props: { readonly plan: Plan; readonly found: Found; readonly onClose: () => void }) {
  const { plan, found } = props
  const [stand, setStand] = useState(standOf(plan))
  const [clock, setClock] = useState<Clock>(clockRight)
  const [ends, setEnds] = useState<readonly [string | undefined, string | undefined]>([undefined, undefined])
  const [gapsAreMarks, setGapsAreMarks] = useState(false)
  const frames = corrected(found.found, clockAheadMs(clock))
  const first = ends[0] ?? frames[0]?.key ?? ''
  const last = ends[1] ?? frames.at(-1)?.key ?? ''
  const from = frames.findIndex(({ key }) => key === first)
  const chosen = frames.slice(from, frames.findIndex(({ key }) => key === last) + 1)
  const wanted = plan.rows.find(({ row }) => row === stand.row)
  const count = useAct(
    (overruleReason: string | null) =>
      api.takes.countFiles.mutate({
        shootId: plan.shootId,
        ...stand,
        overruleReason,
        files: { folder: found.folder, first, last, clockAheadMs: clockAheadMs(clock), gapsAreMarks },
      }),
    props.onClose,
  )
  const overruled = count.refusal?.canOverrule ? count.refusal : undefined
  return (
    <>
      <Form refusal={overruled ? undefined : count.refusal} onSubmit={() => count.run(null)}>
        <FirstAndLast frames={frames} first={first} last={last} onChange={(...both) => setEnds(both)} />
        <ClockFields clock={clock} onChange={setClock} />
        <FilesFound frames={chosen} />
        {wanted ? (
          <ul className={css.told}>
            {filedNotices(chosen, wanted).map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        ) : null}
        {numberGaps(chosen).length > 0 ? (
          <CheckField
            label="The missing files were frames of this turn: their marks stay without a frame"
            checked={gapsAreMarks}
            onChange={setGapsAreMarks}
          />
        ) : null}
        <StandFields plan={plan} stand={stand} onChange={setStand} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={count.busy}>
            Write it down
          </Button>
        </ButtonRow>
      </Form>
      {overruled ? (
        <Overrule
          refusal={overruled}
          act="Write it down all the same"
          busy={count.busy}
          onOverrule={(reason) => count.run(reason)}
          onClose={count.clear}
        />
      ) : null}
    </>
  )
}
