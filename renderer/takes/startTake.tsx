import { useState } from 'react'
import { useNavigate } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { instantAt } from '../../main/trade/calendar.ts'
import { loadCautions, rigCautions } from '../../main/trade/caution.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Dialog, Overrule } from '../parts/dialog.tsx'
import { DateField, SelectField, TimeField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { Empty } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { thisDevice } from './benchDevice.ts'
import { CountedBy } from './countedBy.tsx'
import css from './jobTakes.module.css'
import { settingsText } from './settingsText.ts'

type Plan = Answers['takes']['plan']

const whence: Readonly<Record<Plan['from'], string>> = {
  'last take': 'as in the last take of this spin',
  plan: 'as planned for this spin',
  family: 'as the client approved for its family',
  job: 'as in the last take of this job',
  none: 'not chosen yet',
}

/** Asks what a take stands on before it starts; `counted` writes down one that was counted by its files. */
export function StartTake(props: {
  readonly shootId: number
  readonly counted?: boolean
  readonly onClose: () => void
}) {
  const { shootId } = props
  const plan = useAsk(['takes', 'plan', shootId], () => api.takes.plan.query({ shootId }))
  return (
    <Dialog title={props.counted ? 'Count a take by its files' : 'Start a take'} onClose={props.onClose} wide>
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
          ) : props.counted ? (
            <CountForm plan={data} onClose={props.onClose} />
          ) : (
            <StartForm plan={data} onClose={props.onClose} />
          )
        }
      </Asked>
    </Dialog>
  )
}

interface Stand {
  readonly row: number
  readonly rigRevisionId: number | undefined
  readonly settingsId: number | undefined
  readonly benchId: number | undefined
}

function standOf(plan: Plan): Stand {
  return {
    row: plan.row,
    rigRevisionId: plan.rigRevisionId ?? undefined,
    settingsId: plan.settingsId ?? undefined,
    benchId: plan.benchId ?? undefined,
  }
}

function StartForm({ plan, onClose }: { readonly plan: Plan; readonly onClose: () => void }) {
  const [stand, setStand] = useState(standOf(plan))
  const [folder, setFolder] = useState<string>()
  const navigate = useNavigate()
  const start = useAct(
    (overruleReason: string | null) =>
      api.takes.start.mutate({
        shootId: plan.shootId,
        ...stand,
        overruleReason,
        ...(folder === undefined ? {} : { folder }),
        holder: thisDevice(),
      }),
    ({ takeId }) => {
      onClose()
      navigate(`/takes/${takeId}`)
    },
  )
  const overruled = start.refusal?.canOverrule ? start.refusal : undefined
  return (
    <>
      <Form refusal={overruled ? undefined : start.refusal} onSubmit={() => start.run(null)}>
        <StandFields plan={plan} stand={stand} onChange={setStand} />
        <CountedBy benchId={stand.benchId} folder={folder} onChange={setFolder} />
        <Cautions />
        <ButtonRow>
          <Button type="submit" kind="main" large busy={start.busy}>
            Start the take
          </Button>
        </ButtonRow>
      </Form>
      {overruled ? (
        <Overrule
          refusal={overruled}
          act="Start it all the same"
          busy={start.busy}
          onOverrule={(reason) => start.run(reason)}
          onClose={start.clear}
        />
      ) : null}
    </>
  )
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

function StandFields(props: {
  readonly plan: Plan
  readonly stand: Stand
  readonly onChange: (stand: Stand) => void
}) {
  const { plan, stand, onChange } = props
  const row = plan.rows.find((one) => one.row === stand.row)
  return (
    <>
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
    </>
  )
}

/** The usual cautions; they defer to makers and to local codes. */
function Cautions() {
  return (
    <details className={css.cautions} open>
      <summary>Before you turn</summary>
      <ul>
        {[...loadCautions, ...rigCautions].map(({ about, sentence, pointer }) => (
          <li key={about}>
            {sentence} <span className={css.pointer}>{pointer}</span>
          </li>
        ))}
      </ul>
    </details>
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
