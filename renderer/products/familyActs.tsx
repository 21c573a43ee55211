import { useState } from 'react'
import { useSearchParams } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Confirm, Dialog } from '../parts/dialog.tsx'
import { SelectField, TextArea, TextField } from '../parts/field.tsx'
import { FieldLine, Form, FormRefusal } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import css from './products.module.css'

type Family = Answers['families']['one']

/** What the list says of the family it is narrowed to, and what can be done with it. */
export function FamilyActs({ familyId }: { readonly familyId: number }) {
  const answer = useAsk(['families', 'one', familyId], () => api.families.one.query({ familyId }))
  const [doing, setDoing] = useState<'rename' | 'break up'>()
  const family = answer.data
  if (!family) return answer.refusal ? <FormRefusal sentence={answer.refusal.sentence} /> : null
  const close = () => setDoing(undefined)
  return (
    <div className={css.strip}>
      <p>
        {`${family.name}: ${countText(family.products, 'product')} of ${family.clientName}, `}
        {family.rig ? `shot on ${family.rig}.` : 'not yet tied to a rig.'}
        {family.note ? <span className={words.quiet}> {family.note}</span> : null}
      </p>
      <ButtonRow>
        <Button onClick={() => setDoing('rename')}>Change the family</Button>
        <Button onClick={() => setDoing('break up')}>Break it up</Button>
      </ButtonRow>
      {doing === 'rename' ? <ChangeFamily family={family} onClose={close} /> : null}
      {doing === 'break up' ? <BreakUp family={family} onClose={close} /> : null}
    </div>
  )
}

function ChangeFamily({ family, onClose }: { readonly family: Family; readonly onClose: () => void }) {
  const [name, setName] = useState(family.name)
  const [note, setNote] = useState(family.note ?? '')
  const { rigRevisionId, settingsId } = family
  const change = useAct(
    () =>
      api.families.change.mutate({ familyId: family.id, family: { name, note, rigRevisionId, settingsId } }),
    onClose,
  )
  return (
    <Dialog title={`Change ${family.name}`} onClose={onClose}>
      <Form refusal={change.refusal} onSubmit={() => change.run()}>
        <TextField label="Name" name="family.name" value={name} onChange={setName} />
        <TextArea label="Note" name="family.note" value={note} onChange={setNote} />
        <Button type="submit" kind="main" busy={change.busy}>
          Save the family
        </Button>
      </Form>
    </Dialog>
  )
}

function BreakUp({ family, onClose }: { readonly family: Family; readonly onClose: () => void }) {
  const say = useNotice()
  const [, setParams] = useSearchParams()
  const breakUp = useAct(
    () => api.families.breakUp.mutate({ familyId: family.id }),
    () => {
      say(`${family.name} is broken up.`)
      setParams((before) => {
        before.delete('family')
        return before
      })
    },
  )
  return (
    <Confirm
      title={`Break up ${family.name}?`}
      sentence={`Its ${countText(family.products, 'product')} stay and belong to no family. What rig the family was shot on is no longer kept with it.`}
      act="Break it up"
      grave
      busy={breakUp.busy}
      refusal={breakUp.refusal}
      onConfirm={() => breakUp.run()}
      onClose={onClose}
    />
  )
}

/** Puts the chosen products of one client into a family, a new one if wanted. */
export function PlaceInFamily(props: {
  readonly clientId: number
  readonly productIds: readonly number[]
  readonly onDone: () => void
}) {
  const { clientId, productIds } = props
  const say = useNotice()
  const families = useAsk(['families', 'names', clientId], () => api.families.names.query({ clientId }))
  const [choice, setChoice] = useState('')
  const [isNaming, setNaming] = useState(false)
  const place = useAct(
    (familyId: number | null) => api.families.place.mutate({ familyId, productIds: [...productIds] }),
    (_, familyId) => {
      const count = countText(productIds.length, 'product')
      say(familyId === null ? `${count} taken out of their family.` : `${count} put into the family.`)
      props.onDone()
    },
  )
  return (
    <div className={css.strip}>
      <Form
        label="Put the chosen products into a family"
        refusal={place.refusal}
        onSubmit={() => {
          if (choice !== '') place.run(choice === 'none' ? null : Number(choice))
        }}
      >
        <FieldLine>
          <SelectField
            label={`Put ${countText(productIds.length, 'product')} into`}
            value={choice}
            options={[
              ...(families.data ?? []).map(({ id, name }) => ({ value: String(id), label: name })),
              { value: 'none', label: 'no family' },
            ]}
            onChange={setChoice}
          />
          <div className={css.beside}>
            <ButtonRow>
              <Button type="submit" disabled={choice === ''} busy={place.busy}>
                Put them there
              </Button>
              <Button onClick={() => setNaming(true)}>New family</Button>
            </ButtonRow>
          </div>
        </FieldLine>
      </Form>
      {isNaming ? (
        <NewFamily
          clientId={clientId}
          onAdded={(familyId) => {
            setNaming(false)
            place.run(familyId)
          }}
          onClose={() => setNaming(false)}
        />
      ) : null}
    </div>
  )
}

/** Asks the name of a new family. */
export function NewFamily(props: {
  readonly clientId: number
  readonly onAdded: (familyId: number) => void
  readonly onClose: () => void
}) {
  const [name, setName] = useState('')
  const add = useAct(
    () => api.families.add.mutate({ clientId: props.clientId, family: { name, note: null } }),
    ({ familyId }) => props.onAdded(familyId),
  )
  return (
    <Dialog title="New family" onClose={props.onClose}>
      <Form refusal={add.refusal} onSubmit={() => add.run()}>
        <TextField
          label="Name"
          name="family.name"
          hint="Variants of one shape: its colours, its sizes."
          autoFocus
          value={name}
          onChange={setName}
        />
        <Button type="submit" kind="main" busy={add.busy}>
          Add the family
        </Button>
      </Form>
    </Dialog>
  )
}
