import type { Answers } from '../../main/api/types.ts'
import { type DeliverableKind, deliverableKinds } from '../../main/trade/price.ts'
import { type SizeClass, sizeClasses } from '../../main/trade/product.ts'
import { Button } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { FieldTable } from '../parts/fieldTable.tsx'
import { MoneyField, NumberField } from '../parts/figureFields.tsx'
import { FieldGroup } from '../parts/form.tsx'
import css from './screen.module.css'

/** A row as typed: an amount is null while its field is empty; `key` holds its place while others go. */
export interface TypedPrice {
  readonly key: number
  readonly sizeClass: SizeClass
  readonly finishClassId: number | null
  readonly kind: DeliverableKind
  readonly rows: number | null
  readonly firstMinor: number | null
  readonly followingMinor: number | null
}

export interface TypedBreak {
  readonly key: number
  readonly fromSpins: number | null
  readonly discountPpm: number | null
}

let lastKey = 0

/** Gives a row a key of its own. */
export function keyed<T extends object>(row: T): T & { readonly key: number } {
  lastKey += 1
  return { ...row, key: lastKey }
}

const kindWords: Readonly<Record<DeliverableKind, string>> = {
  loop: 'Loop video',
  'frame set': 'Frame set',
  stills: 'Stills',
}
const sizeWords: Readonly<Record<SizeClass, string>> = { small: 'Small', medium: 'Medium', large: 'Large' }

/** The prices of a list, typed in place. */
export function PriceRows(props: {
  readonly prices: readonly TypedPrice[]
  readonly currency: string
  readonly classes: Answers['pace']['finishClasses']
  readonly onChange: (prices: readonly TypedPrice[]) => void
}) {
  const { prices, onChange } = props
  const patch = (at: number, some: Partial<TypedPrice>) =>
    onChange(prices.map((price, index) => (index === at ? { ...price, ...some } : price)))
  const last = prices.at(-1)
  return (
    <FieldGroup legend="Prices of a spin">
      {prices.length === 0 ? (
        <p className={css.note}>
          There is no price yet. Add a row for each size, finish and deliverable you sell.
        </p>
      ) : (
        <FieldTable
          caption="Prices of a spin"
          columns={[
            { head: 'Size', width: 96 },
            { head: 'Finishing', width: 140 },
            { head: 'Deliverable', width: 116 },
            { head: 'Rows', figure: true, width: 64 },
            { head: 'First of a family', figure: true, width: 128 },
            { head: 'Following', figure: true, width: 128 },
            { head: 'Take away', isHeadSpoken: true },
          ]}
        >
          {prices.map((price, index) => (
            <tr key={price.key}>
              <td>
                <SelectField
                  label={`Size, row ${index + 1}`}
                  value={price.sizeClass}
                  options={sizeClasses.map((value) => ({ value, label: sizeWords[value] }))}
                  onChange={(sizeClass) => patch(index, { sizeClass })}
                />
              </td>
              <td>
                <SelectField
                  label={`Finishing, row ${index + 1}`}
                  empty="Any"
                  value={price.finishClassId === null ? '' : String(price.finishClassId)}
                  options={props.classes.map(({ id, name }) => ({ value: String(id), label: name }))}
                  onChange={(id) => patch(index, { finishClassId: id === '' ? null : Number(id) })}
                />
              </td>
              <td>
                <SelectField
                  label={`Deliverable, row ${index + 1}`}
                  value={price.kind}
                  options={deliverableKinds.map((value) => ({ value, label: kindWords[value] }))}
                  onChange={(kind) => patch(index, { kind })}
                />
              </td>
              <td>
                <NumberField
                  label={`Rows, row ${index + 1}`}
                  name={`prices.${index}.rows`}
                  value={price.rows}
                  onChange={(rows) => patch(index, { rows })}
                />
              </td>
              <td>
                <MoneyField
                  label={`First of a family, row ${index + 1}`}
                  name={`prices.${index}.firstMinor`}
                  currency={props.currency}
                  value={price.firstMinor}
                  onChange={(firstMinor) => patch(index, { firstMinor })}
                />
              </td>
              <td>
                <MoneyField
                  label={`Following, row ${index + 1}`}
                  name={`prices.${index}.followingMinor`}
                  currency={props.currency}
                  value={price.followingMinor}
                  onChange={(followingMinor) => patch(index, { followingMinor })}
                />
              </td>
              <td>
                <Button
                  kind="quiet"
                  aria-label={`Take away row ${index + 1}`}
                  onClick={() => onChange(prices.toSpliced(index, 1))}
                >
                  Take away
                </Button>
              </td>
            </tr>
          ))}
        </FieldTable>
      )}
      <div className={css.acts}>
        <Button
          onClick={() =>
            onChange([
              ...prices,
              keyed({
                sizeClass: last?.sizeClass ?? ('small' as const),
                finishClassId: last?.finishClassId ?? null,
                kind: last?.kind ?? ('frame set' as const),
                rows: last?.rows ?? 1,
                firstMinor: null,
                followingMinor: null,
              }),
            ])
          }
        >
          Add a price
        </Button>
      </div>
    </FieldGroup>
  )
}

/** Volume breaks: from so many spins in one job, so much off all of them. */
export function BreakRows(props: {
  readonly breaks: readonly TypedBreak[]
  readonly onChange: (breaks: readonly TypedBreak[]) => void
}) {
  const { breaks, onChange } = props
  const patch = (at: number, some: Partial<TypedBreak>) =>
    onChange(breaks.map((one, index) => (index === at ? { ...one, ...some } : one)))
  return (
    <FieldGroup legend="Volume breaks">
      {breaks.length === 0 ? (
        <p className={css.note}>
          None. A break takes something off every spin of a job that has enough of them.
        </p>
      ) : (
        <FieldTable
          caption="Volume breaks"
          columns={[
            { head: 'From', figure: true, width: 128 },
            { head: 'Off every spin', figure: true, width: 128 },
            { head: 'Take away', isHeadSpoken: true },
          ]}
        >
          {breaks.map((one, index) => (
            <tr key={one.key}>
              <td>
                <NumberField
                  label={`From, break ${index + 1}`}
                  name={`breaks.${index}.fromSpins`}
                  unit="spins"
                  value={one.fromSpins}
                  onChange={(fromSpins) => patch(index, { fromSpins })}
                />
              </td>
              <td>
                <NumberField
                  label={`Off every spin, break ${index + 1}`}
                  name={`breaks.${index}.discountPpm`}
                  unit="%"
                  places={4}
                  value={one.discountPpm}
                  onChange={(discountPpm) => patch(index, { discountPpm })}
                />
              </td>
              <td>
                <Button
                  kind="quiet"
                  aria-label={`Take away break ${index + 1}`}
                  onClick={() => onChange(breaks.toSpliced(index, 1))}
                >
                  Take away
                </Button>
              </td>
            </tr>
          ))}
        </FieldTable>
      )}
      <div className={css.acts}>
        <Button onClick={() => onChange([...breaks, keyed({ fromSpins: null, discountPpm: null })])}>
          Add a break
        </Button>
      </div>
    </FieldGroup>
  )
}
