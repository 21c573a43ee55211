import type { Asks } from '../../main/api/types.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { CheckField, DateField, SelectField, TextField } from '../parts/field.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { type Cost, kindWords } from './costWords.ts'

/** A cost is written down, planned or paid, or changed: what was planned stays beside what was paid. */
export function CostDialog(props: {
  readonly jobId: number
  readonly currency: string
  readonly cost?: Cost | undefined
  readonly onClose: () => void
}) {
  const { jobId, cost, currency, onClose } = props
  const { today } = useStudio()
  const say = useNotice()
  const { values, set } = useDraft({
    kind: cost?.kind ?? ('hire' as Cost['kind']),
    text: cost?.text ?? '',
    supplier: cost?.supplier ?? '',
    day: cost?.day ?? today,
    plannedMinor: cost?.plannedMinor ?? null,
    actualMinor: cost?.actualMinor ?? null,
    taxMinor: cost && cost.taxMinor > 0 ? cost.taxMinor : null,
    isPassedOn: cost?.isPassedOn ?? false,
  })
  const keep = useAct(
    async () => {
      if (cost) await api.jobCosts.change.mutate({ costId: cost.id, cost: values })
      else await api.jobCosts.add.mutate({ jobId, cost: values } as Asks['jobCosts']['add'])
    },
    () => {
      say(`${values.text} is kept.`)
      onClose()
    },
  )
  return (
    <Dialog title={cost ? `Change the cost: ${cost.text}` : 'Add a cost'} onClose={onClose}>
      <Form onSubmit={() => keep.run()} refusal={keep.refusal}>
        <FieldLine>
          <SelectField
            label="Kind"
            name="kind"
            width="narrow"
            value={values.kind}
            options={(Object.keys(kindWords) as Cost['kind'][]).map((value) => ({
              value,
              label: kindWords[value],
            }))}
            onChange={set('kind')}
          />
          <DateField
            label="Day of the receipt"
            name="day"
            width="narrow"
            hint="Or when it is expected."
            value={values.day}
            onChange={set('day')}
          />
        </FieldLine>
        <TextField
          label="What"
          name="text"
          width="wide"
          hint="Where it is passed on, the client’s invoice says it so."
          value={values.text}
          onChange={set('text')}
        />
        <TextField
          label="Supplier"
          name="supplier"
          width="wide"
          value={values.supplier}
          onChange={set('supplier')}
        />
        <FieldLine>
          <MoneyField
            label="Planned, before tax"
            name="plannedMinor"
            currency={currency}
            value={values.plannedMinor}
            onChange={set('plannedMinor')}
          />
          <MoneyField
            label="Paid, before tax"
            name="actualMinor"
            currency={currency}
            value={values.actualMinor}
            onChange={set('actualMinor')}
          />
          <MoneyField
            label="Tax on it"
            name="taxMinor"
            currency={currency}
            value={values.taxMinor}
            onChange={set('taxMinor')}
          />
        </FieldLine>
        <CheckField
          label="Passed on to the client"
          name="isPassedOn"
          hint="Once it is paid, the next invoice proposes it as a line, at the client’s rate of tax. Whether a cost passed on bears tax differs by country: ask your accountant."
          checked={values.isPassedOn}
          onChange={set('isPassedOn')}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={keep.busy}>
            {cost ? 'Keep the change' : 'Add the cost'}
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
