import { useState } from 'react'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { TextArea } from '../parts/field.tsx'
import { FindField } from '../parts/findField.tsx'
import { Form } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { Empty } from '../parts/page.tsx'
import { type Selection, useSelection } from '../parts/selection.ts'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'

/** A product as the picker holds it. */
export interface PickedProduct {
  readonly id: number
  readonly code: string
  readonly name: string
  readonly variant: string | null
}

/** A spin to be: one product, or a set of several. */
export interface PickedSpin {
  readonly key: string
  readonly products: readonly PickedProduct[]
}

/** What the spins to be are sent as; names come from the products. */
export function sentSpins(spins: readonly PickedSpin[]) {
  return spins.map(({ products }) => ({ productIds: products.map(({ id }) => id), name: null }))
}

/** Chooses which of a client's products are spun: by pasted codes, or from the list; several can make one set. */
export function ProductPicker(props: {
  readonly clientId: number
  readonly spins: readonly PickedSpin[]
  readonly onChange: (spins: readonly PickedSpin[]) => void
}) {
  const { spins, onChange } = props
  const [isListOpen, setListOpen] = useState(false)
  const selection = useSelection<string>()
  const add = (products: readonly PickedProduct[]) => {
    const known = new Set(spins.flatMap((spin) => spin.products.map(({ id }) => id)))
    const fresh = products.filter(({ id }) => !known.has(id))
    onChange([...spins, ...fresh.map((product) => ({ key: `product ${product.id}`, products: [product] }))])
  }
  return (
    <>
      <PasteCodes clientId={props.clientId} onFound={add} />
      <ButtonRow>
        <Button onClick={() => setListOpen(true)}>Choose from the list</Button>
        <SetActs {...props} selection={selection} />
      </ButtonRow>
      {spins.length > 0 ? (
        <Table
          caption="Spins of the job"
          columns={spinColumns}
          rows={spins}
          keyOf={({ key }) => key}
          selection={selection}
          total={spins.length}
          counted={['spin', 'spins']}
          empty={null}
        />
      ) : null}
      {isListOpen ? (
        <ListDialog clientId={props.clientId} onAdd={add} onClose={() => setListOpen(false)} />
      ) : null}
    </>
  )
}

const spinColumns: readonly Column<PickedSpin>[] = [
  {
    key: 'code',
    head: 'Code',
    tight: true,
    cell: ({ products }) => <span className={words.mono}>{products.map(({ code }) => code).join(', ')}</span>,
  },
  { key: 'name', head: 'Product', cell: ({ products }) => products.map(productText).join(' and ') },
  {
    key: 'set',
    head: 'Spun as',
    tight: true,
    cell: ({ products }) => (products.length > 1 ? `a set of ${products.length}` : 'one product'),
  },
]

function productText({ name, variant }: PickedProduct): string {
  return variant ? `${name}, ${variant}` : name
}

function SetActs(props: {
  readonly spins: readonly PickedSpin[]
  readonly onChange: (spins: readonly PickedSpin[]) => void
  readonly selection: Selection<string>
}) {
  const { spins, onChange, selection } = props
  const chosen = spins.filter(({ key }) => selection.has(key))
  if (chosen.length === 0) return null
  const others = spins.filter(({ key }) => !selection.has(key))
  const leave = (next: readonly PickedSpin[]) => {
    onChange(next)
    selection.clear()
  }
  const products = chosen.flatMap((spin) => spin.products)
  return (
    <>
      {chosen.length > 1 ? (
        <Button
          onClick={() =>
            leave([...others, { key: `set ${products.map(({ id }) => id).join(' ')}`, products }])
          }
        >
          Spin them as one set
        </Button>
      ) : null}
      {chosen.some((spin) => spin.products.length > 1) ? (
        <Button
          onClick={() =>
            leave([
              ...others,
              ...products.map((product) => ({ key: `product ${product.id}`, products: [product] })),
            ])
          }
        >
          Spin each on its own
        </Button>
      ) : null}
      <Button onClick={() => leave(others)}>Take them out</Button>
    </>
  )
}

function PasteCodes(props: {
  readonly clientId: number
  readonly onFound: (products: readonly PickedProduct[]) => void
}) {
  const [text, setText] = useState('')
  const [unknown, setUnknown] = useState<readonly string[]>([])
  const read = useAct(
    () => api.spins.readCodes.query({ clientId: props.clientId, codes: text.split(/[\n\t;]+/u) }),
    (answer) => {
      props.onFound(answer.products)
      setUnknown(answer.unknown)
      setText(answer.unknown.join('\n'))
    },
  )
  return (
    <>
      <TextArea
        label="Paste product codes"
        hint="One code to a line. Codes that are known go to the list below."
        rows={3}
        value={text}
        onChange={(next) => {
          setText(next)
          setUnknown([])
        }}
        refusal={
          unknown.length === 0
            ? read.refusal?.sentence
            : `${countText(unknown.length, 'code is', 'codes are')} not among this client’s products. Correct what is left here, or add it under Products first.`
        }
      />
      <ButtonRow>
        <Button disabled={text.trim() === ''} busy={read.busy} onClick={() => read.run()}>
          Take these codes
        </Button>
      </ButtonRow>
    </>
  )
}

type ProductLine = Awaited<ReturnType<typeof api.products.list.query>>['lines'][number]

const listColumns: readonly Column<ProductLine>[] = [
  { key: 'code', head: 'Code', tight: true, cell: ({ code }) => <span className={words.mono}>{code}</span> },
  { key: 'name', head: 'Product', cell: productText },
  { key: 'family', head: 'Family', cell: ({ familyName }) => familyName },
  { key: 'spins', head: 'Spins so far', figure: true, tight: true, cell: ({ spins }) => spins },
]

const listed = 200

function ListDialog(props: {
  readonly clientId: number
  readonly onAdd: (products: readonly PickedProduct[]) => void
  readonly onClose: () => void
}) {
  const [find, setFind] = useState('')
  const selection = useSelection<number>()
  const ask = {
    clientId: props.clientId,
    text: find,
    order: 'code',
    page: { offset: 0, limit: listed },
  } as const
  const answer = useAsk(['products', 'list', ask], () => api.products.list.query(ask))
  const lines = answer.data?.lines ?? []
  const total = answer.data?.total ?? 0
  const chosen = lines.filter(({ id }) => selection.has(id))
  return (
    <Dialog title="Which products are spun?" wide onClose={props.onClose}>
      <Form
        label="Choose products"
        onSubmit={() => {
          props.onAdd(chosen)
          props.onClose()
        }}
      >
        <FindField label="Find by code or name" value={find} onChange={setFind} />
        <Table
          caption="The client’s products"
          columns={listColumns}
          rows={answer.data?.lines}
          keyOf={({ id }) => id}
          selection={selection}
          total={lines.length}
          counted={['product', 'products']}
          stale={answer.stale}
          empty={
            <Empty
              sentence={
                find === ''
                  ? 'This client has no products yet. Add them under Products, or take in a list.'
                  : `No product is called “${find}”.`
              }
            />
          }
        />
        {total > listed ? (
          <p
            className={words.quiet}
          >{`The first ${listed} of ${total} are shown. Narrow them by code or name.`}</p>
        ) : null}
        <ButtonRow>
          <Button type="submit" kind="main" disabled={chosen.length === 0}>
            {chosen.length === 0 ? 'Add them' : `Add ${countText(chosen.length, 'product')}`}
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
