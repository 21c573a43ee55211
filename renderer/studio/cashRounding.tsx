import { useMemo, useState } from 'react'
import { currencyCodes } from '../../main/trade/currency.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { SelectField } from '../parts/field.tsx'
import { MoneyField } from '../parts/figureFields.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { moneyText } from '../parts/format.ts'
import { Empty, Part } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { currencyChoices } from '../start/places.ts'
import css from './screen.module.css'

/** In which currencies the amount due is rounded to the smallest coin. */
export function CashRoundingSection() {
  const rounding = useAsk(['studio', 'cashRounding'], () => api.studio.cashRounding.query())
  const [open, setOpen] = useState(false)
  const end = useAct((currency: string) => api.studio.setCashRounding.mutate({ currency, stepMinor: null }))
  return (
    <Part title="Rounding to coins" acts={<Button onClick={() => setOpen(true)}>Round a currency</Button>}>
      <p className={css.note}>
        Where the smallest coin is larger than the smallest unit, the amount due of an invoice can be rounded
        to it; the rounding stands on the invoice, tax is not touched. Most currencies need none.
      </p>
      {end.refusal ? <FormRefusal sentence={end.refusal.sentence} /> : null}
      <Table
        caption="Currencies that are rounded"
        columns={[
          { key: 'currency', head: 'Currency', cell: ({ currency }) => currency },
          {
            key: 'step',
            head: 'Smallest coin',
            figure: true,
            cell: ({ currency, stepMinor }) => moneyText(stepMinor, currency),
          },
          {
            key: 'act',
            head: 'End',
            isHeadSpoken: true,
            tight: true,
            cell: ({ currency }) => (
              <Button kind="quiet" aria-label={`Round ${currency} no more`} onClick={() => end.run(currency)}>
                Round no more
              </Button>
            ),
          },
        ]}
        rows={rounding.data}
        keyOf={({ currency }) => currency}
        empty={<Empty sentence="No currency is rounded." />}
      />
      {open ? <RoundingDialog onClose={() => setOpen(false)} /> : null}
    </Part>
  )
}

function RoundingDialog({ onClose }: { readonly onClose: () => void }) {
  const [currency, setCurrency] = useState(useStudio().currency)
  const [stepMinor, setStep] = useState<number | null>(null)
  const currencies = useMemo(() => currencyChoices(currencyCodes), [])
  const save = useAct(
    // Left empty it goes as nothing: the studio answers with the sentence for its field.
    () => api.studio.setCashRounding.mutate({ currency, stepMinor: stepMinor ?? 0 }),
    onClose,
  )
  return (
    <Dialog title="Round a currency" onClose={onClose}>
      <Form onSubmit={() => save.run()} refusal={save.refusal}>
        <SelectField
          label="Currency"
          name="currency"
          value={currency}
          options={currencies}
          onChange={setCurrency}
        />
        <MoneyField
          label="Smallest coin"
          name="stepMinor"
          currency={currency}
          value={stepMinor}
          onChange={setStep}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            Round it
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
