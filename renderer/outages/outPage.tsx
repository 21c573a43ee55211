import { useState } from 'react'
import { useSearchParams } from 'react-router'
import type { BlockOnOtherRig } from '../../main/trade/blockRig.ts'
import { BlocksTold } from '../bench/blocksTold.tsx'
import { Asked } from '../parts/asked.tsx'
import { ButtonLink, ButtonRow } from '../parts/button.tsx'
import { DateField, SelectField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { Empty, Page } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { type OutAsked, outAsked } from './outAddress.ts'
import { OutEffects } from './outEffects.tsx'

/** What if something or somebody is not here: which spins wait, and which other rigs could do them. */
export function OutPage() {
  const { today } = useStudio()
  const [params, setParams] = useSearchParams()
  const asked = outAsked(params, today)
  const [told, setTold] = useState<readonly BlockOnOtherRig[]>([])
  const change = (name: string) => (value: string) => {
    setTold([])
    setParams((before) => {
      before.set(name, value)
      return before
    })
  }
  return (
    <Page
      title="What if something is out?"
      lead="Which spins would wait, and which could run on another rig. Nothing is stored by asking."
      acts={
        <ButtonRow>
          <ButtonLink to="/bench">Back to the bench</ButtonLink>
          <ButtonLink to="/rigs/equipment">Equipment</ButtonLink>
        </ButtonRow>
      }
    >
      <Ask asked={asked} what={params.get('what') ?? ''} onChange={change} />
      <BlocksTold blocks={told} />
      {asked.thing ? (
        <Effects asked={asked} thing={asked.thing} onTold={setTold} />
      ) : (
        <Empty sentence="Choose what is out, and until when. What is listed under Equipment can be chosen, platters and people too." />
      )}
    </Page>
  )
}

function Ask(props: {
  readonly asked: OutAsked
  readonly what: string
  readonly onChange: (name: string) => (value: string) => void
}) {
  const { asked, onChange } = props
  const equipment = useAsk(['equipment', 'list', false], () => api.equipment.list.query({ gone: false }))
  const platters = useAsk(['platters', 'list', false], () => api.platters.list.query({ gone: false }))
  const people = useAsk(['studio', 'turners'], () => api.studio.turners.query())
  const choices = (kind: string, of: readonly { readonly id: number; readonly name: string }[] = []) =>
    of.map(({ id, name }) => ({ value: `${kind}-${id}`, label: name }))
  const options = [
    ...choices('equipment', equipment.data),
    ...choices('platter', platters.data),
    ...choices('person', people.data),
  ]
  return (
    <Form label="What is out" onSubmit={() => {}}>
      <FieldLine>
        <SelectField
          label="What is out"
          value={options.some(({ value }) => value === props.what) ? props.what : ''}
          options={options}
          onChange={onChange('what')}
        />
        <DateField label="From" value={asked.fromDay} onChange={onChange('from')} />
        <DateField
          label="Last day away"
          hint="Empty: nobody knows."
          min={asked.fromDay}
          value={asked.toDay}
          onChange={onChange('to')}
        />
      </FieldLine>
    </Form>
  )
}

function Effects(props: {
  readonly asked: OutAsked
  readonly thing: NonNullable<OutAsked['thing']>
  readonly onTold: (blocks: readonly BlockOnOtherRig[]) => void
}) {
  const { fromDay, toDay } = props.asked
  const ask = { thing: props.thing, fromDay, toDay: toDay === '' ? null : toDay }
  const answer = useAsk(['outages', 'effects', ask], () => api.outages.effects.query(ask))
  return (
    <Asked of={answer}>
      {(effects) => <OutEffects thing={props.thing} effects={effects} onTold={props.onTold} />}
    </Asked>
  )
}
