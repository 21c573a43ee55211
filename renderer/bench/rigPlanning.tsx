import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { loadCautions } from '../../main/trade/caution.ts'
import { settingsLine } from '../../main/trade/settings.ts'
import { EstimateBasis } from '../jobs/estimateBasis.tsx'
import words from '../look/words.module.css'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { countText, durationText, massText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Part } from '../parts/page.tsx'
import { useSelection } from '../parts/selection.ts'
import { Table } from '../parts/table.tsx'
import { LastTimeOfSpins } from '../rigs/lastTime.tsx'
import { RigsForSpins } from '../rigs/rigRanked.tsx'
import { SettingsDialog } from '../rigs/settingsDialog.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { BlocksTold } from './blocksTold.tsx'
import { planAddress } from './planAddress.ts'

type PlannedSpin = Answers['rigs']['planned'][number]

/** Which rig and settings the spins of a job are planned on; a family's are at hand where a client said yes. */
export function RigPlanning({ jobId }: { readonly jobId: number }) {
  const answer = useAsk(['rigs', 'planned', jobId], () => api.rigs.planned.query({ jobId }))
  const selection = useSelection<number>()
  const spins = answer.data ?? []
  const chosen = spins.filter(({ shootId }) => selection.has(shootId))
  return (
    <Part title="Rig and settings">
      <Table
        caption="Spins and the rig they are planned on"
        rows={answer.data}
        keyOf={({ shootId }) => shootId as number}
        selection={selection}
        counted={['spin', 'spins']}
        columns={[
          {
            key: 'name',
            head: 'Spin',
            cell: ({ name, isFirst }) => (isFirst ? `${name}, first spin` : name),
          },
          { key: 'rig', head: 'Rig', cell: (spin) => <PlannedRig spin={spin} /> },
          {
            key: 'settings',
            head: 'Settings',
            cell: ({ settingsId }) => <SettingsWords settingsId={settingsId} />,
          },
          {
            key: 'mass',
            head: 'Mass',
            figure: true,
            tight: true,
            cell: ({ massG }) =>
              massG === null ? <span className={words.quiet}>not weighed</span> : massText(massG),
          },
          {
            key: 'time',
            head: 'At the bench',
            figure: true,
            tight: true,
            cell: ({ estimateMs }) => (estimateMs > 0 ? durationText(estimateMs / 60_000) : ''),
          },
        ]}
        empty={<Empty sentence="This job has no spins yet. Add its products to the job first." />}
      />
      {spins.length > 0 ? <EstimateBasis /> : null}
      {spins.length > 0 ? (
        <PlanForm jobId={jobId} spins={chosen.length > 0 ? chosen : spins} all={chosen.length === 0} />
      ) : null}
    </Part>
  )
}

function PlannedRig({ spin }: { readonly spin: PlannedSpin }) {
  if (spin.rigName !== null) return `${spin.rigName}, revision ${spin.revision ?? 1}`
  return (
    <span className={words.quiet}>
      {spin.familyRigName ? `none; ${spin.familyName ?? 'its family'} has ${spin.familyRigName}` : 'none'}
    </span>
  )
}

function SettingsWords({ settingsId }: { readonly settingsId: PlannedSpin['settingsId'] }) {
  const answer = useAsk(
    ['settings', 'one', settingsId],
    () => api.settings.one.query({ settingsId: settingsId ?? 0 }),
    { when: settingsId !== null },
  )
  if (settingsId === null) return <span className={words.quiet}>none</span>
  return answer.data ? settingsLine(answer.data) : ''
}

function PlanForm(props: {
  readonly jobId: number
  readonly spins: readonly PlannedSpin[]
  readonly all: boolean
}) {
  const { spins } = props
  const say = useNotice()
  const rigs = useAsk(['rigs', 'choices'], () => api.rigs.choices.query())
  const [revisionId, setRevision] = useState<number>()
  const [settingsId, setSettings] = useState<number>()
  const [isDialling, setDialling] = useState(false)
  const [told, setTold] = useState<Answers['rigs']['plan']['blocks']>([])
  const rig = rigs.data?.find(({ rigRevisionId }) => rigRevisionId === revisionId)
  const plan = useAct(
    (of: { readonly rigRevisionId?: number; readonly settingsId?: number }) =>
      api.rigs.plan.mutate({ shootIds: spins.map(({ shootId }) => shootId), ...of }),
    ({ planned, withoutFamilyRig, blocks }) => {
      setTold(blocks)
      say(
        withoutFamilyRig.length === 0
          ? `${countText(planned, 'spin')} planned.`
          : `${countText(planned, 'spin')} planned. Without a rig in their family: ${withoutFamilyRig.join(', ')}.`,
      )
    },
  )
  if (rigs.data?.length === 0) {
    return (
      <Empty
        sentence="No rig is written down yet; spins are planned on one."
        act={<ButtonLink to="/rigs/new">Write down a rig</ButtonLink>}
      />
    )
  }
  const whom = props.all ? `all ${countText(spins.length, 'spin')}` : countText(spins.length, 'chosen spin')
  const shootIds = spins.map(({ shootId }) => shootId)
  return (
    <>
      <LastTimeOfSpins jobId={props.jobId} shootIds={shootIds} whom={whom} />
      <RigsForSpins
        shootIds={shootIds}
        chosen={revisionId}
        onChoose={({ rigRevisionId }) => {
          setRevision(rigRevisionId)
          setSettings(undefined)
        }}
      />
      <Form
        refusal={plan.refusal}
        onSubmit={() =>
          revisionId === undefined
            ? undefined
            : plan.run({
                rigRevisionId: revisionId,
                ...(settingsId === undefined ? {} : { settingsId }),
              })
        }
      >
        <FieldLine>
          <SelectField
            label="Rig"
            name="rigRevisionId"
            value={revisionId === undefined ? '' : String(revisionId)}
            options={(rigs.data ?? []).map(({ rigRevisionId, name, revision }) => ({
              value: String(rigRevisionId),
              label: `${name}, revision ${revision}`,
            }))}
            onChange={(id) => {
              setRevision(Number(id))
              setSettings(undefined)
            }}
          />
          {rig ? <SettingsField rigId={rig.rigId} value={settingsId} onChange={setSettings} /> : null}
        </FieldLine>
        <ButtonRow>
          <Button type="submit" kind="main" busy={plan.busy} disabled={revisionId === undefined}>
            {`Plan it for ${whom}`}
          </Button>
          <Button disabled={revisionId === undefined} onClick={() => setDialling(true)}>
            New settings
          </Button>
          {spins.some(({ familyRigRevisionId }) => familyRigRevisionId !== null) ? (
            <Button busy={plan.busy} onClick={() => plan.run({})}>
              {`Use their families’ for ${whom}`}
            </Button>
          ) : null}
          <ButtonLink to={planAddress(props.all ? { jobId: props.jobId } : { shootIds })}>
            {`Find bench time for ${whom}`}
          </ButtonLink>
        </ButtonRow>
        <BlocksTold blocks={told} />
        <p className={words.quiet}>
          {loadCautions[0]?.sentence} {loadCautions[0]?.pointer}{' '}
          {rig ? <Link to={`/rigs/${rig.rigId}`}>{`See ${rig.name}`}</Link> : null}
        </p>
      </Form>
      {isDialling ? (
        <SettingsDialog
          rigId={rig?.rigId}
          rows={spins[0]?.rows ?? []}
          onKept={(id) => {
            setSettings(id)
            setDialling(false)
          }}
          onClose={() => setDialling(false)}
        />
      ) : null}
    </>
  )
}

function SettingsField(props: {
  readonly rigId: number
  readonly value: number | undefined
  readonly onChange: (settingsId: number | undefined) => void
}) {
  const { rigId, value } = props
  const used = useAsk(['settings', 'onRig', rigId], () => api.settings.onRig.query({ rigId }))
  const fresh = useAsk(['settings', 'one', value], () => api.settings.one.query({ settingsId: value ?? 0 }), {
    when: value !== undefined,
  })
  const known = used.data ?? []
  const isNew = value !== undefined && fresh.data && !known.some(({ id }) => id === value)
  const options = [...(isNew && fresh.data ? [fresh.data] : []), ...known]
  return (
    <SelectField
      label="Settings"
      name="settingsId"
      width="wide"
      empty="As they are"
      value={value === undefined ? '' : String(value)}
      options={options.map((settings) => ({ value: String(settings.id), label: settingsLine(settings) }))}
      onChange={(id) => props.onChange((id as string) === '' ? undefined : Number(id))}
    />
  )
}
