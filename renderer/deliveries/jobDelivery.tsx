import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { SelectField, TextArea, TextField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { bytesText, countText, instantText } from '../parts/format.ts'
import { Empty, Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { useStudio } from '../shell/studio.ts'
import { DeliveryFiles } from './deliveryFiles.tsx'
import { PreparedDelivery } from './preparedDelivery.tsx'

export type JobDeliveries = Answers['deliveries']['ofJob']
export type Delivery = JobDeliveries['deliveries'][number]

/** What of a job is handed over: what is ready, what is being prepared, what was sent. */
export function JobDelivery({ jobId }: { readonly jobId: number }) {
  const deliveries = useAsk(['deliveries', 'ofJob', jobId], () => api.deliveries.ofJob.query({ jobId }))
  return (
    <Asked of={deliveries}>
      {(data) => (
        <>
          <Ready jobId={jobId} data={data} />
          {data.deliveries.map((delivery) =>
            delivery.sentAt === null ? (
              <PreparedDelivery key={delivery.id} delivery={delivery} contacts={data.contacts} />
            ) : (
              <SentDelivery key={delivery.id} delivery={delivery} sentAt={delivery.sentAt} />
            ),
          )}
        </>
      )}
    </Asked>
  )
}

function Ready({ jobId, data }: { readonly jobId: number; readonly data: JobDeliveries }) {
  const [isOpen, setOpen] = useState(false)
  const count = data.ready.length
  return (
    <Part title="Ready to go">
      {count === 0 ? (
        <Empty
          sentence={
            data.deliveries.length === 0
              ? 'Nothing has the client’s yes yet. Show the picks and write down the answers first.'
              : 'Nothing more has the client’s yes and waits to be delivered.'
          }
          act={<ButtonLink to={`/jobs/${jobId}/yes`}>Go to pick and yes</ButtonLink>}
        />
      ) : (
        <>
          <p>{`${countText(count, 'deliverable')} ${count === 1 ? 'has' : 'have'} the client’s yes and ${count === 1 ? 'waits' : 'wait'} to be delivered.`}</p>
          <ButtonRow>
            <Button kind="main" onClick={() => setOpen(true)}>
              Prepare a delivery
            </Button>
          </ButtonRow>
        </>
      )}
      {isOpen ? <PrepareDialog jobId={jobId} data={data} onClose={() => setOpen(false)} /> : null}
    </Part>
  )
}

function PrepareDialog(props: {
  readonly jobId: number
  readonly data: JobDeliveries
  readonly onClose: () => void
}) {
  const { jobId, data, onClose } = props
  const [head, setHead] = useState<DeliveryHead>({
    way: data.deliveries.at(-1)?.way ?? '',
    contactId: data.contacts.find(({ isMain }) => isMain)?.id ?? null,
    note: '',
  })
  const prepare = useAct(() => api.deliveries.prepare.mutate({ jobId, ...head }), onClose)
  return (
    <Dialog title={`Prepare ${countText(data.ready.length, 'deliverable')}`} onClose={onClose}>
      <Form refusal={prepare.refusal} onSubmit={() => prepare.run()}>
        <HeadFields head={head} contacts={data.contacts} onChange={setHead} />
        <p>The files are named by the brief’s pattern. The list comes next, before anything is sent.</p>
        <ButtonRow>
          <Button type="submit" kind="main" busy={prepare.busy}>
            Prepare the delivery
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

export interface DeliveryHead {
  readonly way: string
  readonly contactId: number | null
  readonly note: string
}

/** How a delivery goes, to whom, and what stands on its note. */
export function HeadFields(props: {
  readonly head: DeliveryHead
  readonly contacts: JobDeliveries['contacts']
  readonly onChange: (head: DeliveryHead) => void
}) {
  const { head, contacts, onChange } = props
  return (
    <>
      <FieldLine>
        <TextField
          label="How the files go"
          name="way"
          value={head.way}
          list={['download link', 'the client’s upload', 'disk by carrier', 'disk handed over']}
          onChange={(way) => onChange({ ...head, way })}
        />
        {contacts.length > 0 ? (
          <SelectField
            label="To"
            name="contactId"
            value={head.contactId === null ? '' : String(head.contactId)}
            empty="nobody named"
            options={contacts.map(({ id, name }) => ({ value: String(id), label: name }))}
            onChange={(value) => onChange({ ...head, contactId: value ? Number(value) : null })}
          />
        ) : null}
      </FieldLine>
      <TextArea
        label="Note"
        name="note"
        value={head.note}
        onChange={(note) => onChange({ ...head, note })}
        rows={2}
        hint="Printed on the delivery note"
      />
    </>
  )
}

function SentDelivery({ delivery, sentAt }: { readonly delivery: Delivery; readonly sentAt: string }) {
  const { timeZone } = useStudio()
  const [isOpen, setOpen] = useState(false)
  const { listId, notePaperId } = delivery
  return (
    <Part
      title={delivery.number ?? ''}
      acts={
        <ButtonRow>
          {notePaperId === null ? null : (
            <Button onClick={() => openPaper(notePaperId)}>Delivery note</Button>
          )}
          {listId === null ? null : <Button onClick={() => openPaper(listId)}>File list</Button>}
          <Button kind="quiet" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
            {isOpen ? 'Hide the files' : 'Show the files'}
          </Button>
        </ButtonRow>
      }
    >
      <p>
        {[
          `Sent ${instantText(sentAt, timeZone)}`,
          delivery.way,
          delivery.contactName === null ? undefined : `to ${delivery.contactName}`,
          `${countText(delivery.items, 'deliverable')}, ${countText(delivery.files, 'file')}`,
          delivery.filesRead > 0 ? bytesText(delivery.bytes) : undefined,
        ]
          .filter(Boolean)
          .join(', ')}
        .
      </p>
      {isOpen ? <DeliveryFiles delivery={delivery} /> : null}
    </Part>
  )
}
