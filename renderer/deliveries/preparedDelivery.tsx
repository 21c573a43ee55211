import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Confirm, Dialog, Overrule } from '../parts/dialog.tsx'
import { TextField } from '../parts/field.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { bytesText, countText, numberText, percentText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { bridge } from '../shell/bridge.ts'
import css from './deliveries.module.css'
import { DeliveryFiles } from './deliveryFiles.tsx'
import { type Delivery, type DeliveryHead, HeadFields, type JobDeliveries } from './jobDelivery.tsx'

type Reading = NonNullable<Answers['deliveries']['reading']>

/** A delivery that has not gone yet: its files, read from a folder where the person wants, and the way out. */
export function PreparedDelivery(props: {
  readonly delivery: Delivery
  readonly contacts: JobDeliveries['contacts']
}) {
  const { delivery } = props
  const deliveryId = delivery.id
  const say = useNotice()
  const [open, setOpen] = useState<'change' | 'discard'>()
  const close = () => setOpen(undefined)
  const send = useAct(
    (overruleReason: string | null) => api.deliveries.send.mutate({ deliveryId, overruleReason }),
    ({ number }) => say(`${number} is sent. Its note and file list are kept.`),
  )
  const discard = useAct(() => api.deliveries.discard.mutate({ deliveryId }), close)
  const overruled = send.refusal?.canOverrule ? send.refusal : undefined
  return (
    <Part
      title="In preparation"
      acts={
        <ButtonRow>
          <Button kind="quiet" onClick={() => setOpen('change')}>
            Change
          </Button>
          <Button kind="quiet" onClick={() => setOpen('discard')}>
            Discard
          </Button>
        </ButtonRow>
      }
    >
      <p>
        {[
          `${countText(delivery.items, 'deliverable')}, ${countText(delivery.files, 'file')}`,
          delivery.way,
          delivery.contactName === null ? undefined : `to ${delivery.contactName}`,
        ]
          .filter(Boolean)
          .join(', ')}
        .
      </p>
      <Folder delivery={delivery} />
      <DeliveryFiles delivery={delivery} />
      {send.refusal && !overruled ? <FormRefusal sentence={send.refusal.sentence} /> : null}
      <ButtonRow>
        <Button kind="main" busy={send.busy} onClick={() => send.run(null)}>
          It is sent
        </Button>
      </ButtonRow>
      {overruled ? (
        <Overrule
          refusal={overruled}
          act="It goes all the same"
          busy={send.busy}
          onOverrule={(reason) => send.run(reason)}
          onClose={send.clear}
        />
      ) : null}
      {open === 'change' ? <ChangeDialog {...props} onClose={close} /> : null}
      {open === 'discard' ? (
        <Confirm
          title="Discard this delivery?"
          sentence="Its list is thrown away. The files themselves, wherever they are, stay as they are."
          act="Discard the delivery"
          grave
          busy={discard.busy}
          refusal={discard.refusal}
          onConfirm={() => discard.run()}
          onClose={close}
        />
      ) : null}
    </Part>
  )
}

/** The folder whose files are read against the list; what is missing or too much is named. */
function Folder({ delivery }: { readonly delivery: Delivery }) {
  const deliveryId = delivery.id
  const reading = useAsk(
    ['deliveries', 'reading', deliveryId],
    () => api.deliveries.reading.query({ deliveryId }),
    { againWhile: (data) => data?.state === 'reading' },
  )
  const [folder, setFolder] = useState<string>()
  const typed = folder ?? reading.data?.folder ?? ''
  const read = useAct(() => api.deliveries.readFolder.mutate({ deliveryId, folder: typed }))
  const stop = useAct(() => api.deliveries.stopReading.mutate({ deliveryId }))
  const isReading = reading.data?.state === 'reading'
  return (
    <Form label="Read the files" refusal={read.refusal} onSubmit={() => read.run()}>
      <TextField
        label="Folder with the exported files"
        name="folder"
        value={typed}
        onChange={setFolder}
        width="wide"
        hint={
          bridge
            ? 'Its whole path. Files are only read: nothing there is changed.'
            : 'Its whole path on the computer where the studio runs. Files are only read: nothing there is changed.'
        }
      />
      {reading.data ? <ReadingLine reading={reading.data} /> : null}
      <ButtonRow>
        {isReading ? (
          <Button busy={stop.busy} onClick={() => stop.run()}>
            Stop reading
          </Button>
        ) : (
          <Button type="submit" busy={read.busy}>
            {delivery.filesRead > 0 ? 'Read the files again' : 'Read the files'}
          </Button>
        )}
      </ButtonRow>
    </Form>
  )
}

function ReadingLine({ reading }: { readonly reading: Reading }) {
  switch (reading.state) {
    case 'reading':
      return (
        <p role="status">
          {`Reading file ${numberText(Math.min(reading.filesDone + 1, reading.files))} of ${numberText(reading.files)}, ${bytesText(reading.bytesDone)} of ${bytesText(reading.bytes)}${reading.bytes > 0 ? `, ${percentText(reading.bytesDone / reading.bytes)}` : ''}.`}
        </p>
      )
    case 'stopped':
      return <p role="status">The reading was stopped. What was known before stays.</p>
    case 'failed':
      return <FormRefusal sentence={reading.sentence} />
    case 'done':
      return (
        <div role="status" className={css.read}>
          <p>
            {reading.missing.length === 0
              ? `All ${countText(reading.found, 'file')} of the list are there.`
              : `${countText(reading.found, 'file')} found, ${countText(reading.missing.length, 'file')} missing.`}
          </p>
          <Names title="Missing" names={reading.missing} count={reading.missing.length} />
          <Names
            title="Not on the list"
            names={reading.extra.map(({ name }) => name)}
            count={reading.extraCount}
          />
        </div>
      )
  }
}

function Names(props: { readonly title: string; readonly names: readonly string[]; readonly count: number }) {
  if (props.count === 0) return null
  return (
    <details>
      <summary>{`${props.title}: ${countText(props.count, 'file')}`}</summary>
      <ul className={words.mono}>
        {props.names.map((name) => (
          <li key={name}>{name}</li>
        ))}
      </ul>
      {props.count > props.names.length ? (
        <p>{`and ${numberText(props.count - props.names.length)} more`}</p>
      ) : null}
    </details>
  )
}

function ChangeDialog(props: {
  readonly delivery: Delivery
  readonly contacts: JobDeliveries['contacts']
  readonly onClose: () => void
}) {
  const { delivery, contacts, onClose } = props
  const [head, setHead] = useState<DeliveryHead>({
    way: delivery.way,
    contactId: delivery.contactId,
    note: delivery.note ?? '',
  })
  const change = useAct(() => api.deliveries.change.mutate({ deliveryId: delivery.id, ...head }), onClose)
  return (
    <Dialog title="Change the delivery" onClose={onClose}>
      <Form refusal={change.refusal} onSubmit={() => change.run()}>
        <HeadFields head={head} contacts={contacts} onChange={setHead} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={change.busy}>
            Keep the change
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
