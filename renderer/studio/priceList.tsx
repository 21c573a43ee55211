import { useMemo } from 'react'
import { useNavigate, useParams } from 'react-router'
import type { Answers, Asks } from '../../main/api/types.ts'
import { currencyCodes } from '../../main/trade/currency.ts'
import { Asked } from '../parts/asked.tsx'
import { useDraft } from '../parts/draft.ts'
import { CheckField, DateField, SelectField, TextField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import { saved } from '../parts/leaveGuard.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { useStudio } from '../shell/studio.ts'
import { currencyChoices } from '../start/places.ts'
import { BreakRows, keyed, PriceRows, type TypedBreak, type TypedPrice } from './priceRows.tsx'
import { SettingsForm } from './settingsForm.tsx'

type WholeList = Answers['prices']['one']

/** One price list, or a new one where the address ends in `new`. */
export function PriceListPage() {
  const { priceListId = '' } = useParams()
  const id = Number(priceListId)
  const isNew = priceListId === 'new'
  const list = useAsk(['prices', 'one', id], () => api.prices.one.query({ priceListId: id }), {
    when: id >= 1,
  })
  if (isNew) return <ListForm list={undefined} />
  if (!Number.isSafeInteger(id) || id < 1) return <NoSuchPage />
  return <Asked of={list}>{(one) => <ListForm key={one.id} list={one} />}</Asked>
}

interface Typed {
  readonly name: string
  readonly currency: string
  readonly validFrom: string
  readonly validTo: string
  readonly isStandard: boolean
  readonly prices: readonly TypedPrice[]
  readonly breaks: readonly TypedBreak[]
}

function ListForm({ list }: { readonly list: WholeList | undefined }) {
  const { currency, today } = useStudio()
  const draft = useDraft<Typed>({
    name: list?.name ?? '',
    currency: list?.currency ?? currency,
    validFrom: list?.validFrom ?? today,
    validTo: list?.validTo ?? '',
    isStandard: list?.isStandard ?? true,
    prices: list?.prices.map(keyed) ?? [],
    breaks: list?.breaks.map(keyed) ?? [],
  })
  const { values, set } = draft
  const classes = useAsk(['pace', 'finishClasses'], () => api.pace.finishClasses.query())
  const currencies = useMemo(() => currencyChoices(currencyCodes), [])
  const navigate = useNavigate()
  const say = useNotice()
  const save = useAct<void>(
    async () => {
      const priceList = sentOf(values)
      if (list) await api.prices.change.mutate({ priceListId: list.id, priceList })
      else await api.prices.add.mutate(priceList)
    },
    () => {
      draft.reset(values)
      say(`${values.name} is saved. Quotes already sent keep their prices.`)
      void navigate('/studio/prices', { state: saved })
    },
  )
  return (
    <Part title={list ? list.name : 'New price list'}>
      <SettingsForm
        label="Price list"
        touched={draft.touched}
        busy={save.busy}
        refusal={save.refusal}
        onSave={save.run}
      >
        <FieldLine>
          <TextField label="Name" name="name" value={values.name} onChange={set('name')} />
          <SelectField
            label="Currency"
            name="currency"
            value={values.currency}
            options={currencies}
            onChange={set('currency')}
          />
        </FieldLine>
        <FieldLine>
          <DateField
            label="Holds from"
            name="validFrom"
            width="narrow"
            value={values.validFrom}
            onChange={set('validFrom')}
          />
          <DateField
            label="Until"
            name="validTo"
            hint="Empty: until further notice."
            width="narrow"
            value={values.validTo}
            onChange={set('validTo')}
          />
        </FieldLine>
        <CheckField
          label="The standard list of this currency, for every client without one of their own"
          name="isStandard"
          checked={values.isStandard}
          onChange={set('isStandard')}
        />
        <PriceRows
          prices={values.prices}
          currency={values.currency}
          classes={classes.data ?? []}
          onChange={set('prices')}
        />
        <BreakRows breaks={values.breaks} onChange={set('breaks')} />
      </SettingsForm>
    </Part>
  )
}

/** An amount left empty goes as null: the studio answers with the sentence for its field. */
function sentOf(values: Typed): Asks['prices']['add'] {
  return {
    ...values,
    validTo: values.validTo || null,
    prices: values.prices.map(({ key: _, ...price }) => price),
    breaks: values.breaks.map(({ key: _, ...one }) => one),
  } as Asks['prices']['add']
}
