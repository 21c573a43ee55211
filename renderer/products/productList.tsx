import { useSearchParams } from 'react-router'
import type { Asks } from '../../main/api/types.ts'
import { ButtonLink, ButtonRow } from '../parts/button.tsx'
import { CheckField, SelectField } from '../parts/field.tsx'
import { FindField } from '../parts/findField.tsx'
import { FieldLine } from '../parts/form.tsx'
import { Empty, Page } from '../parts/page.tsx'
import { useSelection } from '../parts/selection.ts'
import { Table } from '../parts/table.tsx'
import { rowsPerPage, type TablePlace, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAsk } from '../shell/api.ts'
import { FamilyActs, PlaceInFamily } from './familyActs.tsx'
import { idIn } from './idIn.ts'
import { productColumns } from './productColumns.tsx'
import css from './products.module.css'

type ProductOrder = NonNullable<NonNullable<Asks['products']['list']>['order']>

/** Products across clients, narrowed by client, family and text. */
export function ProductList() {
  const place = useTablePlace({ key: 'code', descending: false })
  const clientId = idIn(place.filter('client'))
  const familyId = idIn(place.filter('family'))
  const ask = {
    clientId,
    familyId,
    text: place.filter('find'),
    archived: place.filter('off') === 'yes',
    order: place.sort.key as ProductOrder,
    descending: place.sort.descending,
    page: { offset: (place.page - 1) * rowsPerPage, limit: rowsPerPage },
  }
  const answer = useAsk(['products', 'list', ask], () => api.products.list.query(ask))
  const selection = useSelection<number>()
  const chosen = selection.chosen.which === 'some' ? [...selection.chosen.keys] : []
  const query = clientId === null ? '' : `?client=${clientId}`
  return (
    <Page
      title="Products"
      acts={
        <ButtonRow>
          <ButtonLink to={`/products/import${query}`}>Take in a list</ButtonLink>
          <ButtonLink to={`/products/new${query}`} kind="main">
            Add a product
          </ButtonLink>
        </ButtonRow>
      }
    >
      <Filters place={place} clientId={clientId} />
      {familyId === null ? null : <FamilyActs key={familyId} familyId={familyId} />}
      {clientId !== null && chosen.length > 0 ? (
        <PlaceInFamily clientId={clientId} productIds={chosen} onDone={selection.clear} />
      ) : null}
      <Table
        caption="Products"
        columns={productColumns(
          clientId === null
            ? ['code', 'name', 'client', 'family', 'size', 'swept', 'class', 'mass', 'finish', 'spins']
            : ['code', 'name', 'family', 'size', 'swept', 'class', 'mass', 'finish', 'spins'],
        )}
        rows={answer.data?.lines}
        keyOf={(product) => product.id as number}
        to={(product) => `/products/${product.id}`}
        total={answer.data?.total ?? 0}
        counted={['product', 'products']}
        place={place}
        {...(clientId === null ? {} : { selection })}
        stale={answer.stale}
        empty={<NoProducts isNarrowed={ask.text !== '' || familyId !== null || ask.archived} query={query} />}
      />
    </Page>
  )
}

function Filters({ place, clientId }: { readonly place: TablePlace; readonly clientId: number | null }) {
  const [, setParams] = useSearchParams()
  const clients = useAsk(['clients', 'names'], () => api.clients.names.query())
  const families = useAsk(
    ['families', 'names', clientId],
    () => api.families.names.query({ clientId: clientId ?? 0 }),
    { when: clientId !== null },
  )
  return (
    <FieldLine>
      <FindField
        label="Find by code or name"
        value={place.filter('find')}
        onChange={(value) => place.setFilter('find', value)}
      />
      <SelectField
        label="Client"
        empty="All clients"
        value={place.filter('client')}
        options={(clients.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
        onChange={(id) =>
          // A family is of one client, so it goes when the client does.
          setParams(
            (before) => {
              for (const name of ['family', 'page', 'client']) before.delete(name)
              if (id !== '') before.set('client', id)
              return before
            },
            { replace: true },
          )
        }
      />
      {clientId === null ? null : (
        <SelectField
          label="Family"
          empty="All families"
          value={place.filter('family')}
          options={(families.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
          onChange={(id) => place.setFilter('family', id)}
        />
      )}
      <div className={css.beside}>
        <CheckField
          label="Show those off the list"
          checked={place.filter('off') === 'yes'}
          onChange={(checked) => place.setFilter('off', checked ? 'yes' : '')}
        />
      </div>
    </FieldLine>
  )
}

function NoProducts({ isNarrowed, query }: { readonly isNarrowed: boolean; readonly query: string }) {
  if (isNarrowed) {
    return <Empty sentence="No product matches. Try another part of a code or name, or widen the choice." />
  }
  return (
    <Empty
      sentence="There are no products yet. Take in a client’s product list as CSV, or add them one by one."
      act={
        <ButtonRow>
          <ButtonLink to={`/products/import${query}`}>Take in a list</ButtonLink>
          <ButtonLink to={`/products/new${query}`}>Add a product</ButtonLink>
        </ButtonRow>
      }
    />
  )
}
