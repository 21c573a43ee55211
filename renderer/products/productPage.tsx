import { useState } from 'react'
import { Link, useParams } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Confirm } from '../parts/dialog.tsx'
import { dayText, massText, moneyText, withUnit } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Columns, Empty, Fact, Page, Part, Sheet } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { RigsForProduct } from '../rigs/rigRanked.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { sizesText } from './productColumns.tsx'
import { ProductPicture } from './productPicture.tsx'
import { ProductPlan } from './productPlan.tsx'
import css from './products.module.css'

type WholeProduct = Answers['products']['one']

/** One product: its sizes and what it sweeps, its family, its spins. */
export function ProductPage() {
  const productId = Number(useParams().productId)
  const answer = useAsk(['products', 'one', productId], () => api.products.one.query({ productId }))
  return (
    <Asked of={answer} isPage>
      {(whole) => <Product key={productId} whole={whole} />}
    </Asked>
  )
}

function Product({ whole }: { readonly whole: WholeProduct }) {
  const { product, clientName } = whole
  return (
    <Page
      title={`${product.code} ${product.name}`}
      lead={
        <>
          {product.variant ? `${product.variant}, ` : null}
          <Link to={`/clients/${product.clientId}`}>{clientName}</Link>
          {product.archivedAt ? ', off the list' : null}
        </>
      }
      acts={<ProductActs product={product} />}
    >
      <Columns aside>
        <div className={css.parts}>
          <Spins whole={whole} />
          <Part title="Which rig?">
            <RigsForProduct productId={product.id} />
          </Part>
          {product.handlingNote ? (
            <Part title="Handling">
              <p>{product.handlingNote}</p>
            </Part>
          ) : null}
          <ProductPicture product={product} picture={whole.picture} />
        </div>
        <Facts whole={whole} />
      </Columns>
    </Page>
  )
}

function Facts({ whole: { product, family, currency } }: { readonly whole: WholeProduct }) {
  return (
    <Part title="Size and handling">
      <ProductPlan size={product} />
      <Sheet>
        <Fact label="W × D × H">{sizesText(product) || 'not known yet'}</Fact>
        <Fact label="Sweeps">
          {product.sweptWidthMm === null ? 'not known yet' : withUnit(product.sweptWidthMm, 'mm', 1)}
          {product.sweptWidthMm === null ? null : (
            <span className={words.quiet}> {planText(product.plan)}</span>
          )}
        </Fact>
        <Fact label="Size class">
          {product.sizeKnown ? product.sizeClass : `${product.sizeClass}, a guess until it is measured`}
        </Fact>
        <Fact label="Mass">{product.massG === null ? 'not known yet' : massText(product.massG)}</Fact>
        {product.standG === null ? null : <Fact label="Stand or prop">{massText(product.standG)}</Fact>}
        <Fact label="Finish">{product.finish}</Fact>
        <Fact label="Family">
          {family ? (
            <Link to={`/products?client=${product.clientId}&family=${family.id}`}>{family.name}</Link>
          ) : (
            'none'
          )}
        </Fact>
        {family?.rig ? <Fact label="Family’s rig">{family.rig}</Fact> : null}
        <Fact label="Start pose">{product.startPose ?? 'as the brief says'}</Fact>
        {product.gtin ? (
          <Fact label="GTIN">
            <span className={words.mono}>{product.gtin}</span>
          </Fact>
        ) : null}
        {product.valueMinor === null ? null : (
          <Fact label="Value of one">{moneyText(product.valueMinor, currency)}</Fact>
        )}
      </Sheet>
    </Part>
  )
}

function planText(plan: WholeProduct['product']['plan']): string {
  return { box: 'by its diagonal', round: 'by its diameter', measured: 'as measured' }[plan]
}

type SpinOf = WholeProduct['spins'][number]

function Spins({ whole: { product, spins } }: { readonly whole: WholeProduct }) {
  const { today } = useStudio()
  const columns: readonly Column<SpinOf>[] = [
    { key: 'job', head: 'Job', cell: (spin) => `${spin.jobNumber} ${spin.jobTitle}` },
    { key: 'spin', head: 'Spin', cell: (spin) => spin.name },
    {
      key: 'station',
      head: 'Station',
      tight: true,
      cell: (spin) => (spin.cancelled ? <span className={words.quiet}>cancelled</span> : spin.station),
    },
    { key: 'rig', head: 'Shot on', cell: (spin) => spin.rig },
    {
      key: 'due',
      head: 'Due',
      figure: true,
      tight: true,
      cell: (spin) => (spin.dueDay === null ? null : dayText(spin.dueDay, today)),
    },
  ]
  return (
    <Part title="Spins">
      <Table
        caption={`Spins of ${product.code}`}
        columns={columns}
        rows={spins}
        keyOf={(spin) => spin.shootId}
        to={(spin) => `/jobs/${spin.jobId}/spins`}
        empty={<Empty sentence="It has not been spun yet. Put it on a job of its client." />}
      />
    </Part>
  )
}

function ProductActs({ product }: { readonly product: WholeProduct['product'] }) {
  const say = useNotice()
  const [isAsking, setAsking] = useState(false)
  const isOff = product.archivedAt !== null
  const archive = useAct(
    () => api.products.archive.mutate({ productId: product.id, archived: !isOff }),
    () => {
      setAsking(false)
      say(isOff ? `${product.code} is on the list again.` : `${product.code} is off the list.`)
    },
  )
  return (
    <ButtonRow>
      <ButtonLink to={`/products/${product.id}/change`} kind="main">
        Change
      </ButtonLink>
      {isOff ? (
        <Button busy={archive.busy} onClick={() => archive.run()}>
          Bring back
        </Button>
      ) : (
        <Button onClick={() => setAsking(true)}>Take off the list</Button>
      )}
      {isAsking ? (
        <Confirm
          title={`Take ${product.code} off the list?`}
          sentence="Its spins and takes stay. You find it under “Show those off the list” and can bring it back."
          act="Take off the list"
          busy={archive.busy}
          refusal={archive.refusal}
          onConfirm={() => archive.run()}
          onClose={() => setAsking(false)}
        />
      ) : null}
    </ButtonRow>
  )
}
