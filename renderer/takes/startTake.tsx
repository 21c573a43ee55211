import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { instantAt } from '../../main/trade/calendar.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Dialog, Overrule } from '../parts/dialog.tsx'
import { DateField, SelectField, TimeField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { Empty } from '../parts/page.tsx'
import { LastTimeOfSpin } from '../rigs/lastTime.tsx'
import { RigsForSpins } from '../rigs/rigRanked.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { settingsText } from './settingsText.ts'

export type Plan = Answers['takes']['plan']

const whence: Readonly<Record<Plan['from'], string>> = {
  'last take': 'as in the last take of this spin',
  plan: 'as planned for this spin',
  family: 'as the client approved for its family',
  job: 'as in the last take of this job',
  none: 'not chosen yet',
}

/** Writes down a take that was counted by its files. */
export function StartTake(props: { readonly shootId: number; readonly onClose: () => void }) {
  const { shootId } = props
  const plan = useAsk(['takes', 'plan', shootId], () => api.takes.plan.query({ shootId }))
  return (
    <Dialog title="Count a take by its files" onClose={props.onClose} wide>
      <Asked of={plan}>
        {(data) =>
          data.rigs.length === 0 || data.settings.length === 0 ? (
            <Empty
              sentence={
                data.rigs.length === 0
                  ? 'No rig is in the library yet. Write down what stands on the bench first.'
                  : 'No settings are written down yet. Write down what is dialled first, on the page of the rig.'
              }
              act={<ButtonLink to="/rigs">Go to the rigs</ButtonLink>}
            />
          ) : (
            <CountForm plan={data} onClose={props.onClose} />
          )
        }
      </Asked>
    </Dialog>
  )
}

/** What a take stands on, as it is chosen. */
export interface Stand {
  readonly row: number
  readonly rigRevisionId: number | undefined
  readonly settingsId: number | undefined
  readonly benchId: number | undefined
}

/** What the plan says, before anything is chosen. */
export function standOf(plan: Plan): Stand {
  return {
    row: plan.row,
    rigRevisionId: plan.rigRevisionId ?? undefined,
    settingsId: plan.settingsId ?? undefined,
    benchId: plan.benchId ?? undefined,
  }
}

function CountForm({ plan, onClose }: { readonly plan: Plan; readonly onClose: () => void }) {
  const { today, timeZone } = useStudio()
  const [stand, setStand] = useState(standOf(plan))
  const wanted = plan.rows.find(({ row }) => row === stand.row)
  const [frames, setFrames] = useState<number | null>(
    wanted ? wanted.framesPerTurn + wanted.overlapFrames : null,
  )
  const [day, setDay] = useState(today)
  const [from, setFrom] = useState('')
  const [to, setTo] = useState('')
  const [isUnfinished, setUnfinished] = useState(false)
  const count = useAct((overruleReason: string | null) => {
    return api.takes.count.mutate({
      shootId: plan.shootId,
      ...stand,
      framesShot: frames ?? 0,
      startedAt: instantAt(day, minutesOf(from), timeZone).toISOString(),
      endedAt: instantAt(day, minutesOf(to), timeZone).toISOString(),
      overruleReason,
    })
  }, onClose)
  const overruled = count.refusal?.canOverrule ? count.refusal : undefined
  const lacks = (value: string | number | null, sentence: string) =>
    isUnfinished && (value === '' || value === null) ? sentence : undefined
  return (
    <>
      <Form
        refusal={overruled ? undefined : count.refusal}
        onSubmit={() => {
          if (frames === null || !day || !from || !to) setUnfinished(true)
          else count.run(null)
        }}
      >
        <StandFields plan={plan} stand={stand} onChange={setStand} />
        <FieldLine>
          <NumberField
            label="Frames shot"
            name="framesShot"
            value={frames}
            onChange={setFrames}
            width="narrow"
            refusal={lacks(frames, 'Count the files of the take.')}
          />
          <DateField label="Day" name="startedAt" value={day} onChange={setDay} max={today} />
          <TimeField
            label="First frame"
            value={from}
            onChange={setFrom}
            refusal={lacks(from, 'Read the time of the first file.')}
          />
          <TimeField
            label="Last frame"
            name="endedAt"
            value={to}
            onChange={setTo}
            refusal={lacks(to, 'Read the time of the last file.')}
          />
        </FieldLine>
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

/** The choice of row, rig, settings and bench. */
export function StandFields(props: {
  readonly plan: Plan
  readonly stand: Stand
  readonly onChange: (stand: Stand) => void
}) {
  const { plan, stand, onChange } = props
  const row = plan.rows.find((one) => one.row === stand.row)
  return (
    <>
      <LastTimeOfSpin shootId={plan.shootId} onPlanned={(dialled) => onChange({ ...stand, ...dialled })} />
      <p>
        {`${plan.spin}, ${countText(row?.framesPerTurn ?? 0, 'frame')} to the turn and ${row?.overlapFrames ?? 0} more as overlap. Rig and settings ${whence[plan.from]}.`}
      </p>
      {plan.rows.length > 1 ? (
        <SelectField
          label="Row"
          name="row"
          value={String(stand.row)}
          options={plan.rows.map((one) => ({
            value: String(one.row),
            label: `Row ${one.row}, from ${one.viewAngleMdeg / 1000}°${one.isKept ? ', kept' : ''}`,
          }))}
          onChange={(value) => onChange({ ...stand, row: Number(value) })}
        />
      ) : null}
      <FieldLine>
        <SelectField
          label="Rig"
          name="rigRevisionId"
          value={choice(stand.rigRevisionId)}
          empty="Choose a rig"
          options={plan.rigs.map(({ id, name, revision }) => ({
            value: String(id),
            label: `${name}, revision ${revision}`,
          }))}
          onChange={(value) => onChange({ ...stand, rigRevisionId: chosen(value) })}
        />
        <SelectField
          label="Settings"
          name="settingsId"
          value={choice(stand.settingsId)}
          empty="Choose settings"
          options={plan.settings.map((settings) => ({
            value: String(settings.id),
            label: settingsText(settings),
          }))}
          onChange={(value) => onChange({ ...stand, settingsId: chosen(value) })}
        />
        <SelectField
          label="Bench"
          name="benchId"
          value={choice(stand.benchId)}
          options={plan.benches.map(({ id, name }) => ({ value: String(id), label: name }))}
          onChange={(value) => onChange({ ...stand, benchId: chosen(value) })}
        />
      </FieldLine>
      <details>
        <summary>Which rig?</summary>
        <RigsForSpins
          shootIds={[plan.shootId]}
          chosen={stand.rigRevisionId}
          onChoose={({ rigRevisionId }) => onChange({ ...stand, rigRevisionId })}
        />
      </details>
    </>
  )
}

function choice(id: number | undefined): string {
  return id === undefined ? '' : String(id)
}

function chosen(value: string): number | undefined {
  return value === '' ? undefined : Number(value)
}

function minutesOf(time: string): number {
  const [hours = 0, minutes = 0] = time.split(':').map(Number)
  return hours * 60 + minutes
}
