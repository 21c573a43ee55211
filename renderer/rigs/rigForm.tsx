import { useNavigate, useParams } from 'react-router'
import { rigCautions } from '../../main/trade/caution.ts'
import { shown } from '../../main/trade/measures.ts'
import { sizeClasses } from '../../main/trade/product.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField, TextArea, TextField } from '../parts/field.tsx'
import { LengthField, NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine, Form } from '../parts/form.tsx'
import { um10Text } from '../parts/format.ts'
import { LeaveGuard, saved } from '../parts/leaveGuard.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Page } from '../parts/page.tsx'
import { RigPlan } from '../parts/rigPlan.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { EquipmentField } from './equipmentField.tsx'
import { LightsFields } from './lightsFields.tsx'
import { planOf } from './planOf.ts'
import css from './rigForm.module.css'
import {
  emptyRevision,
  type Revision,
  type RevisionValue,
  type Rig,
  revisionValueOf,
  sentRevision,
} from './rigValue.ts'

interface RigValue {
  readonly name: string
  readonly sizeClass: Rig['sizeClass']
  readonly rigNote: string
  readonly revision: RevisionValue
}

/** The form for a rig that is not written down yet, with its first revision. */
export function NewRig() {
  return (
    <RigForm
      title="Write down a rig"
      start={{
        name: '',
        sizeClass: 'small',
        rigNote: '',
        revision: { ...emptyRevision, why: 'first set-up' },
      }}
      save={async ({ name, sizeClass, rigNote, revision }) =>
        (
          await api.rigs.add.mutate({
            rig: { name, sizeClass, note: rigNote },
            revision: sentRevision(revision),
          })
        ).rigId
      }
      act="Write down the rig"
      leave="/rigs"
    />
  )
}

/** The same form for the next revision of a rig, from what stands now. */
export function ReviseRig() {
  const rigId = Number(useParams().rigId)
  const answer = useAsk(['rigs', 'one', rigId], () => api.rigs.one.query({ rigId }))
  return (
    <Asked of={answer} isPage>
      {({ rig, revisions: [newest] }) => (newest ? <Revising key={rigId} rig={rig} newest={newest} /> : null)}
    </Asked>
  )
}

function Revising({ rig, newest }: { readonly rig: Rig; readonly newest: Revision }) {
  return (
    <RigForm
      title={`Revise ${rig.name}`}
      isRevision
      start={{
        name: rig.name,
        sizeClass: rig.sizeClass,
        rigNote: rig.note ?? '',
        revision: revisionValueOf(newest),
      }}
      save={async ({ name, sizeClass, rigNote, revision }) => {
        if (name !== rig.name || sizeClass !== rig.sizeClass || rigNote !== (rig.note ?? '')) {
          await api.rigs.change.mutate({ rigId: rig.id, rig: { name, sizeClass, note: rigNote } })
        }
        await api.rigs.revise.mutate({ rigId: rig.id, revision: sentRevision(revision) })
        return rig.id
      }}
      act={`Keep as revision ${newest.revision + 1}`}
      leave={`/rigs/${rig.id}`}
    />
  )
}

function RigForm(props: {
  readonly title: string
  readonly isRevision?: boolean
  readonly start: RigValue
  readonly save: (value: RigValue) => Promise<number>
  readonly act: string
  readonly leave: string
}) {
  const navigate = useNavigate()
  const say = useNotice()
  const draft = useDraft(props.start)
  const { values, set } = draft
  const save = useAct(
    () => props.save(values),
    (rigId) => {
      say(`${values.name.trim()} is kept.`)
      void navigate(`/rigs/${rigId}`, { state: saved })
    },
  )
  return (
    <Page
      title={props.title}
      lead={
        props.isRevision
          ? 'A change makes a new revision; the old ones stay as they were, with the takes shot on them.'
          : 'The drawing follows what you type.'
      }
    >
      <LeaveGuard when={draft.touched} />
      <div className={css.sides}>
        <Form refusal={save.refusal} onSubmit={() => save.run()}>
          <FieldGroup legend="Rig">
            <FieldLine>
              <TextField label="Name" name="name" value={values.name} onChange={set('name')} />
              <SelectField
                label="For products that are"
                name="sizeClass"
                width="narrow"
                value={values.sizeClass}
                options={sizeClasses.map((value) => ({ value, label: value }))}
                onChange={set('sizeClass')}
              />
            </FieldLine>
            <TextField
              label="Note"
              name="rig.note"
              value={values.rigNote}
              onChange={set('rigNote')}
              width="wide"
            />
          </FieldGroup>
          <RevisionFields value={values.revision} onChange={set('revision')} />
          <FieldGroup legend={props.isRevision ? 'Why it changed' : 'Why it stands like this'}>
            <TextField
              label="Why"
              name="why"
              width="wide"
              hint="The next person reads this first: what went wrong before, or what this is better for."
              value={values.revision.why}
              onChange={(why) => set('revision')({ ...values.revision, why })}
            />
          </FieldGroup>
          <ButtonRow>
            <Button type="submit" kind="main" busy={save.busy}>
              {props.act}
            </Button>
            <ButtonLink to={props.leave}>Leave it</ButtonLink>
          </ButtonRow>
        </Form>
        <Drawing name={values.name} revision={values.revision} />
      </div>
    </Page>
  )
}

/** The plan of what is typed, and the usual cautions beside it. */
function Drawing({ name, revision }: { readonly name: string; readonly revision: RevisionValue }) {
  const platters = usePlatters()
  const rimMm = platters.find(({ id }) => id === revision.platterId)?.rimMm ?? null
  return (
    <aside className={css.drawing} aria-label="Drawing">
      {rimMm === null && revision.cameraDistanceUm === null ? (
        <p>Choose the platter and enter the camera’s distance; the plan is drawn from them.</p>
      ) : (
        <RigPlan
          width={448}
          height={440}
          label={name || 'This rig'}
          {...planOf({ ...shown(revision), rimMm })}
        />
      )}
      <ul className={css.cautions}>
        {rigCautions.map(({ about, sentence }) => (
          <li key={about}>{sentence}</li>
        ))}
      </ul>
    </aside>
  )
}

function usePlatters() {
  return useAsk(['platters', 'list', false], () => api.platters.list.query({ gone: false })).data ?? []
}

interface RevisionFieldsProps {
  readonly value: RevisionValue
  readonly onChange: (value: RevisionValue) => void
}

function RevisionFields({ value, onChange }: RevisionFieldsProps) {
  const set =
    <K extends keyof RevisionValue>(key: K) =>
    (next: RevisionValue[K]) =>
      onChange({ ...value, [key]: next })
  const platters = usePlatters()
  return (
    <>
      <FieldGroup legend="Platter and backdrop">
        <FieldLine>
          <SelectField
            label="Platter"
            name="platterId"
            value={value.platterId === null ? '' : String(value.platterId)}
            options={platters.map(({ id, name, rimMm }) => ({
              value: String(id),
              label: `${name}, rim ${um10Text(Math.round(rimMm * 10_000))}`,
            }))}
            onChange={(id) => set('platterId')(Number(id))}
            hint={
              platters.length === 0 ? 'No platter is in the studio yet. Add one under Platters.' : undefined
            }
          />
          <TextField label="Backdrop" name="backdrop" value={value.backdrop} onChange={set('backdrop')} />
          <EquipmentField
            label="Backdrop from the equipment"
            kind="backdrop"
            value={value.backdropEquipmentId}
            onChange={set('backdropEquipmentId')}
          />
        </FieldLine>
      </FieldGroup>
      <CameraFields value={value} onChange={onChange} />
      <FieldGroup legend="Lights">
        <LightsFields lights={value.lights} onChange={set('lights')} />
      </FieldGroup>
      <FieldGroup legend="Besides">
        <TextField label="Flags" name="flags" width="wide" value={value.flags} onChange={set('flags')} />
        <TextArea label="Note" name="revision.note" rows={2} value={value.note} onChange={set('note')} />
      </FieldGroup>
    </>
  )
}

function CameraFields({ value, onChange }: RevisionFieldsProps) {
  const set =
    <K extends keyof RevisionValue>(key: K) =>
    (next: RevisionValue[K]) =>
      onChange({ ...value, [key]: next })
  return (
    <FieldGroup legend="Camera and lens">
      <FieldLine>
        <TextField label="Camera" name="camera" value={value.camera} onChange={set('camera')} />
        <EquipmentField
          label="Camera from the equipment"
          kind="camera"
          value={value.cameraEquipmentId}
          onChange={set('cameraEquipmentId')}
        />
      </FieldLine>
      <FieldLine>
        <LengthField
          kept="um"
          label="Sensor width"
          name="sensorWidthMm"
          value={value.sensorWidthUm}
          onChange={set('sensorWidthUm')}
        />
        <LengthField
          kept="um"
          label="Sensor height"
          name="sensorHeightMm"
          value={value.sensorHeightUm}
          onChange={set('sensorHeightUm')}
        />
        <NumberField
          label="Pixels across"
          unit="px"
          name="sensorWidthPx"
          value={value.sensorWidthPx}
          onChange={set('sensorWidthPx')}
        />
        <NumberField
          label="Pixels down"
          unit="px"
          name="sensorHeightPx"
          value={value.sensorHeightPx}
          onChange={set('sensorHeightPx')}
        />
      </FieldLine>
      <FieldLine>
        <TextField label="Lens" name="lens" value={value.lens} onChange={set('lens')} />
        <EquipmentField
          label="Lens from the equipment"
          kind="lens"
          value={value.lensEquipmentId}
          onChange={set('lensEquipmentId')}
        />
        <LengthField
          kept="um"
          label="Focal length"
          name="focalMm"
          value={value.focalUm}
          onChange={set('focalUm')}
        />
      </FieldLine>
      <FieldLine>
        <LengthField
          kept="um"
          label="Distance to the axis"
          name="cameraDistanceMm"
          value={value.cameraDistanceUm}
          onChange={set('cameraDistanceUm')}
        />
        <LengthField
          kept="um"
          label="Height over the platter"
          name="cameraHeightMm"
          value={value.cameraHeightUm}
          onChange={set('cameraHeightUm')}
        />
        <NumberField
          label="Tilt"
          unit="°"
          places={3}
          name="cameraTiltDeg"
          value={value.cameraTiltMdeg}
          onChange={set('cameraTiltMdeg')}
        />
      </FieldLine>
    </FieldGroup>
  )
}
