import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { outAddress } from '../outages/outAddress.ts'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { CheckField, DateField, SelectField, TextArea, TextField } from '../parts/field.tsx'
import { MoneyField, NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { dayText, moneyText, numberText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Page } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'

type Equipment = Answers['equipment']['list'][number]
type Outage = Equipment['outages'][number]

const kinds = [
  { value: 'light', label: 'Light' },
  { value: 'modifier', label: 'Modifier' },
  { value: 'camera', label: 'Camera' },
  { value: 'lens', label: 'Lens' },
  { value: 'stand', label: 'Stand' },
  { value: 'backdrop', label: 'Backdrop' },
  { value: 'prop', label: 'Prop' },
  { value: 'other', label: 'Other' },
] as const

/** What the bench needs and may be away: lights, lenses, cameras, with the days they are not here. */
export function EquipmentPage() {
  const { currency, today } = useStudio()
  const [gone, setGone] = useState(false)
  const [open, setOpen] = useState<Equipment | 'new'>()
  const [leaving, setLeaving] = useState<Equipment>()
  const answer = useAsk(['equipment', 'list', gone], () => api.equipment.list.query({ gone }))
  const add = (
    <Button kind="main" onClick={() => setOpen('new')}>
      Add equipment
    </Button>
  )
  return (
    <Page
      title="Equipment"
      lead="A rig that names a piece of it cannot be booked unawares while that piece is away."
      acts={
        <ButtonRow>
          <ButtonLink to="/rigs">Rigs</ButtonLink>
          {add}
        </ButtonRow>
      }
    >
      <CheckField label="Show what is out of use" checked={gone} onChange={setGone} />
      <Table
        caption="Equipment"
        rows={answer.data}
        keyOf={({ id }) => id}
        columns={[
          { key: 'name', head: 'Equipment', cell: ({ name }) => name },
          { key: 'kind', head: 'Kind', cell: ({ kind }) => kind },
          {
            key: 'count',
            head: 'Count',
            figure: true,
            tight: true,
            cell: ({ count }) => numberText(count, 0),
          },
          {
            key: 'day',
            head: 'Cost a day',
            figure: true,
            tight: true,
            cell: ({ dayMinor }) => (dayMinor > 0 ? moneyText(dayMinor, currency) : ''),
          },
          {
            key: 'out',
            head: 'Here or away',
            cell: ({ outages }) =>
              outages.length === 0 ? (
                <span className={words.quiet}>here</span>
              ) : (
                <Outages outages={outages} today={today} />
              ),
          },
          {
            key: 'away',
            head: 'Away',
            isHeadSpoken: true,
            tight: true,
            cell: (equipment) => (
              <Button
                kind="quiet"
                aria-label={`Note when ${equipment.name} is away`}
                onClick={() => setLeaving(equipment)}
              >
                Away
              </Button>
            ),
          },
          {
            key: 'change',
            head: 'Change',
            isHeadSpoken: true,
            tight: true,
            cell: (equipment) => (
              <Button kind="quiet" aria-label={`Change ${equipment.name}`} onClick={() => setOpen(equipment)}>
                Change
              </Button>
            ),
          },
        ]}
        empty={
          gone ? (
            <Empty sentence="Nothing is out of use." />
          ) : (
            <Empty
              sentence="No equipment is listed. List what can be missing when you need it: a lens, a lamp, a second camera."
              act={add}
            />
          )
        }
      />
      {open ? (
        <EquipmentDialog equipment={open === 'new' ? undefined : open} onClose={() => setOpen(undefined)} />
      ) : null}
      {leaving ? <OutageDialog equipment={leaving} onClose={() => setLeaving(undefined)} /> : null}
    </Page>
  )
}

function Outages({ outages, today }: { readonly outages: readonly Outage[]; readonly today: string }) {
  const say = useNotice()
  const back = useAct(
    (outage: Outage) =>
      api.equipment.endOutage.mutate({
        outageId: outage.id,
        // Back today: the last day away was yesterday, or today where it only just left.
        toDay: outage.fromDay < today ? dayBefore(today) : today,
      }),
    () => say('It is back.'),
  )
  return (
    <ul>
      {outages.map((outage) => (
        <li key={outage.id}>
          {`${outage.kind === 'repair' ? 'in repair' : 'away'} from ${dayText(outage.fromDay, today)}${
            outage.toDay ? ` to ${dayText(outage.toDay, today)}` : ''
          }${outage.reason ? `, ${outage.reason}` : ''} `}
          <Link to={outAddress('equipment', outage.equipmentId, outage.fromDay, outage.toDay)}>
            What it means
          </Link>{' '}
          {outage.toDay === null && outage.fromDay <= today ? (
            <Button kind="quiet" busy={back.busy} onClick={() => back.run(outage)}>
              It is back
            </Button>
          ) : null}
        </li>
      ))}
    </ul>
  )
}

function dayBefore(day: string): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) - 86_400_000).toISOString().slice(0, 10)
}

function EquipmentDialog(props: { readonly equipment: Equipment | undefined; readonly onClose: () => void }) {
  const { equipment, onClose } = props
  const { currency } = useStudio()
  const say = useNotice()
  const draft = useDraft({
    name: equipment?.name ?? '',
    kind: equipment?.kind ?? ('light' as Equipment['kind']),
    count: (equipment?.count ?? 1) as number | null,
    dayMinor: (equipment?.dayMinor ?? 0) as number | null,
    note: equipment?.note ?? '',
  })
  const { values, set } = draft
  const save = useAct(
    async () => {
      const sent = { ...values, count: values.count ?? 0, dayMinor: values.dayMinor ?? 0 }
      if (equipment) await api.equipment.change.mutate({ equipmentId: equipment.id, equipment: sent })
      else await api.equipment.add.mutate(sent)
    },
    () => {
      say(`${values.name.trim()} is kept.`)
      onClose()
    },
  )
  const retire = useAct(
    (gone: boolean) => api.equipment.retire.mutate({ equipmentId: equipment?.id ?? 0, gone }),
    onClose,
  )
  return (
    <Dialog title={equipment ? `Change ${equipment.name}` : 'Add equipment'} onClose={onClose}>
      <Form refusal={save.refusal} onSubmit={() => save.run()}>
        <TextField label="Name" name="name" value={values.name} onChange={set('name')} autoFocus />
        <FieldLine>
          <SelectField
            label="Kind"
            name="kind"
            width="narrow"
            value={values.kind}
            options={kinds}
            onChange={set('kind')}
          />
          <NumberField label="How many alike" name="count" value={values.count} onChange={set('count')} />
          <MoneyField
            label="Cost a day"
            currency={currency}
            name="dayMinor"
            value={values.dayMinor}
            onChange={set('dayMinor')}
          />
        </FieldLine>
        <TextArea label="Note" name="note" rows={2} value={values.note} onChange={set('note')} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            {equipment ? 'Save it' : 'Add it'}
          </Button>
          {equipment ? (
            <Button busy={retire.busy} onClick={() => retire.run(equipment.goneAt === null)}>
              {equipment.goneAt === null ? 'Take out of use' : 'Bring back'}
            </Button>
          ) : null}
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

function OutageDialog(props: { readonly equipment: Equipment; readonly onClose: () => void }) {
  const { equipment, onClose } = props
  const { today } = useStudio()
  const draft = useDraft({ kind: 'away' as Outage['kind'], fromDay: today, toDay: '', reason: '' })
  const { values, set } = draft
  const save = useAct(
    () =>
      api.equipment.addOutage.mutate({
        ...values,
        equipmentId: equipment.id,
        toDay: values.toDay === '' ? null : values.toDay,
      }),
    onClose,
  )
  return (
    <Dialog title={`When ${equipment.name} is not here`} onClose={onClose}>
      <Form refusal={save.refusal} onSubmit={() => save.run()}>
        <SelectField
          label="Where it is"
          name="kind"
          value={values.kind}
          options={[
            { value: 'away', label: 'Away: lent, hired out, travelling' },
            { value: 'repair', label: 'In repair' },
          ]}
          onChange={set('kind')}
        />
        <FieldLine>
          <DateField label="From" name="fromDay" value={values.fromDay} onChange={set('fromDay')} />
          <DateField
            label="Last day away"
            name="toDay"
            hint="Empty: not known yet."
            value={values.toDay}
            onChange={set('toDay')}
          />
        </FieldLine>
        <TextField label="Why" name="reason" value={values.reason} onChange={set('reason')} />
        {equipment.count > 1 ? (
          <p className={words.quiet}>
            {`One of ${numberText(equipment.count, 0)} is away. Note it again for a second one.`}
          </p>
        ) : null}
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            Note it
          </Button>
          <ButtonLink to={outAddress('equipment', equipment.id, values.fromDay, values.toDay || null)}>
            What would it mean?
          </ButtonLink>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
