import type { Answers } from '../../main/api/types.ts'
import { SelectField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { LastTimeOfSpin } from '../rigs/lastTime.tsx'
import { RigsForSpins } from '../rigs/rigRanked.tsx'
import { settingsText } from './settingsText.ts'

export type Plan = Answers['takes']['plan']

const whence: Readonly<Record<Plan['from'], string>> = {
  'last take': 'as in the last take of this spin',
  plan: 'as planned for this spin',
  family: 'as the client approved for its family',
  'family take': 'as in the first kept take of its family',
  job: 'as in the last take of this job',
  none: 'not chosen yet',
}

/** What a take stands on. */
export interface Stand {
  readonly row: number
  readonly rigRevisionId: number | undefined
  readonly settingsId: number | undefined
  readonly benchId: number | undefined
}

/** What the plan of a spin proposes. */
export function standOf(plan: Plan): Stand {
  return {
    row: plan.row,
    rigRevisionId: plan.rigRevisionId ?? undefined,
    settingsId: plan.settingsId ?? undefined,
    benchId: plan.benchId ?? undefined,
  }
}

/** Row, rig, settings and bench of a take. */
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
