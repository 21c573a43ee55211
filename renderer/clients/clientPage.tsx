import { useState } from 'react'
import { useParams } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { isLate } from '../../main/trade/standing.ts'
import { BriefSheet } from '../briefs/briefSheet.tsx'
import { WaitsFor } from '../jobs/jobTable.tsx'
import { dueWords } from '../jobs/jobWords.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Confirm } from '../parts/dialog.tsx'
import { countText, numberText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Columns, Empty, Fact, Page, Part, Sheet } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { productColumns } from '../products/productColumns.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { countryChoices } from '../start/places.ts'
import css from './clientPage.module.css'

type WholeClient = Answers['clients']['one']

/** One client: what is open, its products, who they are and what they always want. */
export function ClientPage() {
  const clientId = Number(useParams().clientId)
  const answer = useAsk(['clients', 'one', clientId], () => api.clients.one.query({ clientId }))
  return (
    <Asked of={answer} isPage>
      {(whole) => <Client key={clientId} whole={whole} />}
    </Asked>
  )
}

function Client({ whole }: { readonly whole: WholeClient }) {
  const { client, brief } = whole
  return (
    <Page
      title={client.name}
      lead={[client.trade, client.city, client.archivedAt ? 'off the list' : null].filter(Boolean).join(', ')}
      acts={<ClientActs client={client} />}
    >
      <Columns aside>
        <div className={css.parts}>
          <OpenJobs clientId={client.id} />
          <Products clientId={client.id} />
          <Families clientId={client.id} />
        </div>
        <div className={css.parts}>
          <People whole={whole} />
          <Terms whole={whole} />
          <Part title="Standing brief">
            <BriefSheet brief={brief} />
          </Part>
          {client.note ? (
            <Part title="Note">
              <p>{client.note}</p>
            </Part>
          ) : null}
        </div>
      </Columns>
    </Page>
  )
}

function ClientActs({ client }: { readonly client: WholeClient['client'] }) {
  const say = useNotice()
  const [isAsking, setAsking] = useState(false)
  const isOff = client.archivedAt !== null
  const archive = useAct(
    () => api.clients.archive.mutate({ clientId: client.id, archived: !isOff }),
    () => {
      setAsking(false)
      say(isOff ? `${client.name} is on the list again.` : `${client.name} is off the list.`)
    },
  )
  return (
    <ButtonRow>
      {isOff ? null : (
        <ButtonLink to={`/jobs/new?client=${client.id}`} kind="main">
          New job
        </ButtonLink>
      )}
      <ButtonLink to={`/clients/${client.id}/change`}>Change</ButtonLink>
      <ButtonLink to={`/invoices/accounts/${client.id}`}>Account</ButtonLink>
      {isOff ? (
        <Button busy={archive.busy} onClick={() => archive.run()}>
          Bring back
        </Button>
      ) : (
        <Button onClick={() => setAsking(true)}>Take off the list</Button>
      )}
      {isAsking ? (
        <Confirm
          title={`Take ${client.name} off the list?`}
          sentence="Its jobs, products and papers stay. You find it under “Show those off the list” and can bring it back."
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

type JobLine = Answers['jobs']['list']['lines'][number]

const jobsShown = 12

function OpenJobs({ clientId }: { readonly clientId: number }) {
  const { today } = useStudio()
  const ask = { clientId, page: { offset: 0, limit: jobsShown } }
  const answer = useAsk(['jobs', 'list', ask], () => api.jobs.list.query(ask))
  const columns: readonly Column<JobLine>[] = [
    { key: 'title', head: 'Job', cell: (job) => job.title },
    { key: 'number', head: 'Number', tight: true, cell: (job) => job.number },
    { key: 'station', head: 'Station', tight: true, cell: (job) => job.station },
    { key: 'waitsFor', head: 'Waits for', cell: (job) => <WaitsFor job={job} today={today} /> },
    {
      key: 'due',
      head: 'Due',
      figure: true,
      tight: true,
      cell: (job) => (
        <span className={isLate(job, today) ? words.late : undefined}>{dueWords(job, today)}</span>
      ),
    },
  ]
  return (
    <Part
      title="Open jobs"
      acts={
        answer.data && answer.data.total > jobsShown ? (
          <ButtonLink kind="quiet" to={`/jobs?client=${clientId}&open=yes`}>
            {`All ${countText(answer.data.total, 'open job')}`}
          </ButtonLink>
        ) : undefined
      }
    >
      <Table
        caption="Open jobs of this client"
        columns={columns}
        rows={answer.data?.lines}
        keyOf={(job) => job.jobId}
        to={(job) => `/jobs/${job.jobId}`}
        stale={answer.stale}
        empty={<Empty sentence="Nothing is open for this client." />}
      />
    </Part>
  )
}

function Products({ clientId }: { readonly clientId: number }) {
  const ask = { clientId, order: 'newest', descending: true, page: { offset: 0, limit: 10 } } as const
  const answer = useAsk(['products', 'list', ask], () => api.products.list.query(ask))
  const total = answer.data?.total ?? 0
  return (
    <Part
      title="Products"
      acts={
        <ButtonRow>
          {total > 10 ? (
            <ButtonLink to={`/products?client=${clientId}`} kind="quiet">
              {`All ${countText(total, 'product')}`}
            </ButtonLink>
          ) : null}
          <ButtonLink to={`/products/import?client=${clientId}`}>Take in a list</ButtonLink>
          <ButtonLink to={`/products/new?client=${clientId}`}>Add a product</ButtonLink>
        </ButtonRow>
      }
    >
      <Table
        caption="The newest products of this client"
        columns={productColumns(['code', 'name', 'size', 'finish', 'spins'])}
        rows={answer.data?.lines}
        keyOf={(product) => product.id}
        to={(product) => `/products/${product.id}`}
        stale={answer.stale}
        empty={
          <Empty sentence="This client has no products yet. Take in its product list as CSV, or add them one by one." />
        }
      />
    </Part>
  )
}

type FamilyLine = Answers['families']['list']['lines'][number]

const familyColumns: readonly Column<FamilyLine>[] = [
  { key: 'name', head: 'Family', cell: (family) => family.name },
  { key: 'rig', head: 'Shot on', cell: (family) => family.rig },
  { key: 'products', head: 'Products', figure: true, tight: true, cell: (family) => family.products },
]

function Families({ clientId }: { readonly clientId: number }) {
  const [isWhole, setWhole] = useState(false)
  const ask = { clientId, page: { offset: 0, limit: isWhole ? 500 : 10 } }
  const answer = useAsk(['families', 'list', ask], () => api.families.list.query(ask))
  return (
    <Part
      title="Families"
      acts={
        !isWhole && (answer.data?.total ?? 0) > 10 ? (
          <Button kind="quiet" onClick={() => setWhole(true)}>
            {`All ${numberText(answer.data?.total ?? 0)} families`}
          </Button>
        ) : null
      }
    >
      <Table
        caption="Families of this client’s products"
        columns={familyColumns}
        rows={answer.data?.lines}
        keyOf={(family) => family.id}
        to={(family) => `/products?client=${clientId}&family=${family.id}`}
        stale={answer.stale}
        empty={
          <Empty sentence="No families yet. Put variants of one shape into a family, so that they share rig, settings and start pose." />
        }
      />
    </Part>
  )
}

function People({ whole: { client, contacts } }: { readonly whole: WholeClient }) {
  return (
    <Part title="Address and people">
      <address className={css.address}>
        {[client.street, [client.postalCode, client.city].filter(Boolean).join(' '), client.region]
          .filter(Boolean)
          .map((line) => (
            <div key={line}>{line}</div>
          ))}
        <div>{countryName(client.country)}</div>
      </address>
      {contacts.length > 0 ? (
        <Sheet>
          {contacts.map((contact) => (
            <Fact key={contact.id} label={contact.role ?? 'contact'}>
              <div>
                {contact.isMain && contacts.length > 1 ? `${contact.name}, first to ask` : contact.name}
              </div>
              {contact.email ? <div className={words.quiet}>{contact.email}</div> : null}
              {contact.phone ? <div className={words.quiet}>{contact.phone}</div> : null}
            </Fact>
          ))}
        </Sheet>
      ) : (
        <p className={words.quiet}>Nobody is named yet.</p>
      )}
    </Part>
  )
}

function countryName(code: string): string {
  return countryChoices().find(({ value }) => value === code)?.label ?? code
}

function Terms({ whole: { client } }: { readonly whole: WholeClient }) {
  const rates = useAsk(['taxRates'], () => api.taxRates.list.query())
  const lists = useAsk(['prices', 'list'], () => api.prices.list.query())
  const rate = rates.data?.find(({ id }) => id === client.taxRateId)?.name
  const list = lists.data?.find(({ id }) => id === client.priceListId)?.name
  return (
    <Part title="Terms">
      <Sheet>
        <Fact label="Currency">{client.currency}</Fact>
        <Fact label="Tax">{rate ?? 'as the studio'}</Fact>
        <Fact label="Tax number">{client.taxNumber ?? 'not known'}</Fact>
        <Fact label="Pays within">
          {client.paymentDays === null ? 'as the studio' : countText(client.paymentDays, 'day')}
        </Fact>
        <Fact label="Price list">{list ?? 'the standard one'}</Fact>
        <Fact label="Order number">{client.orderNumberNeeded ? 'needed before work' : 'not needed'}</Fact>
        <Fact label="Its reference">{client.referenceNeeded ? 'needed on invoices' : 'not needed'}</Fact>
        <Fact label="Cost centre">{client.costCentreNeeded ? 'needed on invoices' : 'not needed'}</Fact>
        <Fact label="Invoices">{client.billsMonthly ? 'one a month over all jobs' : 'one for each job'}</Fact>
        <Fact label="Files">{client.filesAfterPayment ? 'after payment' : 'on delivery'}</Fact>
        <Fact label="Papers in">{client.language === 'de' ? 'German' : 'English'}</Fact>
      </Sheet>
    </Part>
  )
}
