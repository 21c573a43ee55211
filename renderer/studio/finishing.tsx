import { useState } from 'react'
import type { Answers, Asks } from '../../main/api/types.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField, TextField } from '../parts/field.tsx'
import { MoneyField, NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { moneyText, secondsText } from '../parts/format.ts'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './screen.module.css'

type FinishClass = Answers['pace']['finishClasses'][number]

/** What is done to a frame before it is delivered, by whom, and what it takes. */
export function FinishingSection() {
  const classes = useAsk(['pace', 'finishClasses'], () => api.pace.finishClasses.query())
  const [open, setOpen] = useState<FinishClass | 'new'>()
  return (
    <Part
      title="Finishing"
      acts={
        <Button kind="main" onClick={() => setOpen('new')}>
          Add a finish class
        </Button>
      }
    >
      <p className={css.note}>
        What is done to every delivered frame. In the house it takes desk time; bought in it costs a price per
        frame.
      </p>
      <Table
        caption="Finish classes"
        columns={useColumns(setOpen)}
        rows={classes.data}
        keyOf={({ id }) => id}
        empty={<Empty sentence="There is no finish class yet. Add ‘none’ first: frames as they come." />}
      />
      {open ? (
        <ClassDialog of={open === 'new' ? undefined : open} onClose={() => setOpen(undefined)} />
      ) : null}
    </Part>
  )
}

function useColumns(open: (one: FinishClass) => void): readonly Column<FinishClass>[] {
  const { currency } = useStudio()
  return [
    { key: 'name', head: 'Finish class', cell: ({ name }) => name },
    {
      key: 'by',
      head: 'Done by',
      cell: ({ inHouse, supplier }) => (inHouse ? 'the studio' : (supplier ?? 'bought in')),
    },
    {
      key: 'time',
      head: 'Time a frame',
      figure: true,
      cell: ({ inHouse, frameMs }) => (inHouse ? secondsText(frameMs / 1000) : ''),
    },
    {
      key: 'price',
      head: 'Price of 100 frames',
      figure: true,
      cell: ({ inHouse, frameMinorPer100 }) => (inHouse ? '' : moneyText(frameMinorPer100, currency)),
    },
    {
      key: 'act',
      head: 'Change',
      isHeadSpoken: true,
      tight: true,
      cell: (one) => (
        <Button kind="quiet" aria-label={`Change ${one.name}`} onClick={() => open(one)}>
          Change
        </Button>
      ),
    },
  ]
}

function ClassDialog(props: { readonly of: FinishClass | undefined; readonly onClose: () => void }) {
  const { of } = props
  const { currency } = useStudio()
  const { values, set } = useDraft({
    name: of?.name ?? '',
    by: of && !of.inHouse ? ('bought' as const) : ('house' as 'house' | 'bought'),
    frameMs: of?.frameMs ?? (null as number | null),
    frameMinorPer100: of?.frameMinorPer100 ?? (null as number | null),
    supplier: of?.supplier ?? '',
  })
  const inHouse = values.by === 'house'
  const save = useAct<void>(async () => {
    const finishClass = {
      name: values.name,
      inHouse,
      frameMs: inHouse ? values.frameMs : 0,
      frameMinorPer100: inHouse ? 0 : values.frameMinorPer100,
      supplier: inHouse ? null : values.supplier,
    } as Asks['pace']['addFinishClass']
    if (of) await api.pace.changeFinishClass.mutate({ finishClassId: of.id, finishClass })
    else await api.pace.addFinishClass.mutate(finishClass)
  }, props.onClose)
  return (
    <Dialog title={of ? `Change ${of.name}` : 'Add a finish class'} onClose={props.onClose}>
      <Form onSubmit={save.run} refusal={save.refusal}>
        <TextField label="Name" name="name" value={values.name} onChange={set('name')} />
        <SelectField
          label="Done by"
          value={values.by}
          options={[
            { value: 'house', label: 'The studio' },
            { value: 'bought', label: 'Bought in' },
          ]}
          onChange={set('by')}
        />
        {inHouse ? (
          <NumberField
            label="Time a frame"
            name="frameMs"
            unit="s"
            places={3}
            value={values.frameMs}
            onChange={set('frameMs')}
          />
        ) : (
          <FieldLine>
            <TextField
              label="Bought from"
              name="supplier"
              value={values.supplier}
              onChange={set('supplier')}
            />
            <MoneyField
              label="Price of 100 frames"
              name="frameMinorPer100"
              currency={currency}
              value={values.frameMinorPer100}
              onChange={set('frameMinorPer100')}
            />
          </FieldLine>
        )}
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            {of ? 'Save the class' : 'Add the class'}
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
