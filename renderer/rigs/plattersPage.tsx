import { useState } from 'react'
import type { Answers, Asks } from '../../main/api/types.ts'
import { loadCautions } from '../../main/trade/caution.ts'
import { kept, shown } from '../../main/trade/measures.ts'
import words from '../look/words.module.css'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { CheckField, TextArea, TextField } from '../parts/field.tsx'
import { LengthField, NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { countText, massText, withUnit } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Page } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'

type Platter = Answers['platters']['list'][number]

/** The turning surfaces: what their tapes read and what they carry. */
export function PlattersPage() {
  const [gone, setGone] = useState(false)
  const [open, setOpen] = useState<Platter | 'new'>()
  const answer = useAsk(['platters', 'list', gone], () => api.platters.list.query({ gone }))
  const add = (
    <Button kind="main" onClick={() => setOpen('new')}>
      Add a platter
    </Button>
  )
  return (
    <Page
      title="Platters"
      lead="The rim is what the platter’s own tape reads where it comes round to its start."
      acts={
        <ButtonRow>
          <ButtonLink to="/rigs">Rigs</ButtonLink>
          {add}
        </ButtonRow>
      }
    >
      <CheckField label="Show those out of use" checked={gone} onChange={setGone} />
      <Table
        caption="Platters"
        rows={answer.data}
        keyOf={({ id }) => id}
        columns={[
          { key: 'name', head: 'Platter', cell: ({ name }) => name },
          { key: 'rim', head: 'Rim', figure: true, cell: ({ rimMm }) => withUnit(rimMm, 'mm', 4) },
          {
            key: 'division',
            head: 'Division',
            figure: true,
            cell: ({ divisionMm }) => withUnit(divisionMm, 'mm', 4),
          },
          {
            key: 'load',
            head: 'Load limit',
            figure: true,
            cell: ({ loadLimitG }) =>
              loadLimitG === null ? <span className={words.quiet}>not known</span> : massText(loadLimitG),
          },
          { key: 'surface', head: 'Surface', cell: ({ surface }) => surface },
          { key: 'rigs', head: 'Rigs on it', figure: true, cell: ({ rigs }) => rigs },
          {
            key: 'change',
            head: 'Change',
            isHeadSpoken: true,
            tight: true,
            cell: (platter) => (
              <Button kind="quiet" aria-label={`Change ${platter.name}`} onClick={() => setOpen(platter)}>
                Change
              </Button>
            ),
          },
        ]}
        empty={
          gone ? (
            <Empty sentence="No platter is out of use." />
          ) : (
            <Empty
              sentence="No platter is in the studio yet. Lay its tape round the rim, read where it meets its start, and write that down."
              act={add}
            />
          )
        }
      />
      <ul>
        {loadCautions.map(({ about, sentence, pointer }) => (
          <li key={about}>
            {sentence} <span className={words.quiet}>{pointer}</span>
          </li>
        ))}
      </ul>
      {open ? (
        <PlatterDialog platter={open === 'new' ? undefined : open} onClose={() => setOpen(undefined)} />
      ) : null}
    </Page>
  )
}

function PlatterDialog(props: { readonly platter: Platter | undefined; readonly onClose: () => void }) {
  const { platter, onClose } = props
  const say = useNotice()
  const draft = useDraft(
    platter
      ? platterValue(platter)
      : { name: '', rimUm10: null, divisionUm10: 10_000, loadLimitG: null, surface: '', note: '' },
  )
  const { values, set } = draft
  const save = useAct(
    async () => {
      // Empty figures go as they are; the studio says which of them it cannot do without.
      const sent = shown(values) as Asks['platters']['add']
      if (platter) await api.platters.change.mutate({ platterId: platter.id, platter: sent })
      else await api.platters.add.mutate(sent)
    },
    () => {
      say(`${values.name.trim()} is kept.`)
      onClose()
    },
  )
  const retire = useAct(
    (gone: boolean) => api.platters.retire.mutate({ platterId: platter?.id ?? 0, gone }),
    onClose,
  )
  return (
    <Dialog title={platter ? `Change ${platter.name}` : 'Add a platter'} onClose={onClose}>
      <Form refusal={save.refusal} onSubmit={() => save.run()}>
        <TextField label="Name" name="name" value={values.name} onChange={set('name')} autoFocus />
        <FieldLine>
          <LengthField
            kept="um10"
            label="Rim"
            name="rimMm"
            value={values.rimUm10}
            onChange={set('rimUm10')}
          />
          <LengthField
            kept="um10"
            label="Division of the tape"
            name="divisionMm"
            value={values.divisionUm10}
            onChange={set('divisionUm10')}
          />
          <NumberField
            label="Load limit"
            unit="g"
            name="loadLimitG"
            value={values.loadLimitG}
            onChange={set('loadLimitG')}
          />
        </FieldLine>
        <p className={words.quiet}>
          The load limit is the maker’s. Spins that are heavier are refused on this platter.
        </p>
        <TextField label="Surface" name="surface" value={values.surface} onChange={set('surface')} />
        <TextArea label="Note" name="note" rows={2} value={values.note} onChange={set('note')} />
        {platter && platter.rigs > 0 ? (
          <p>
            {`A new rim counts from the next revision on; the revisions of ${countText(platter.rigs, 'rig')} keep the rim they were written with.`}
          </p>
        ) : null}
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            {platter ? 'Save the platter' : 'Add the platter'}
          </Button>
          {platter ? (
            <Button busy={retire.busy} onClick={() => retire.run(platter.goneAt === null)}>
              {platter.goneAt === null ? 'Take out of use' : 'Bring back'}
            </Button>
          ) : null}
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

interface PlatterValue {
  readonly name: string
  readonly rimUm10: number | null
  readonly divisionUm10: number | null
  readonly loadLimitG: number | null
  readonly surface: string
  readonly note: string
}

function platterValue(platter: Platter): PlatterValue {
  const { name, rimUm10, divisionUm10, loadLimitG, surface, note } = kept(platter)
  return { name, rimUm10, divisionUm10, loadLimitG, surface: surface ?? '', note: note ?? '' }
}
