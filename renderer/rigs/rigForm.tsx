import { useNavigate, useParams } from 'react-router'
import { sizeClasses } from '../../main/trade/product.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField, TextField } from '../parts/field.tsx'
import { FieldGroup, FieldLine, Form } from '../parts/form.tsx'
import { LeaveGuard, saved } from '../parts/leaveGuard.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Page } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { FormDrawing } from './formDrawing.tsx'
import { RevisionFields } from './revisionFields.tsx'
import css from './rigForm.module.css'
import {
  emptyRevision,
  isRevised,
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
        const called = { name, sizeClass, note: rigNote }
        const isCalledOtherwise =
          name !== rig.name || sizeClass !== rig.sizeClass || rigNote !== (rig.note ?? '')
        if (isCalledOtherwise && !isRevised(revision, newest)) {
          await api.rigs.change.mutate({ rigId: rig.id, rig: called })
        } else {
          await api.rigs.revise.mutate({
            rigId: rig.id,
            revision: sentRevision(revision),
            ...(isCalledOtherwise ? { rig: called } : {}),
          })
        }
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
          ? 'A change of what stands makes a new revision; the old ones stay as they were, with the takes shot on them. Another focus, aperture or frame count is new settings, written on the page of the rig.'
          : 'The drawing follows what you type, and the figures follow what you drag on it. Distances are level, from the platter’s axis; heights over its surface; a tilt or an elevation from above is more than 0.'
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
        <FormDrawing name={values.name} revision={values.revision} onChange={set('revision')} />
      </div>
    </Page>
  )
}
