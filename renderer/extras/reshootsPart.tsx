import { useState } from 'react'
import { canPropose } from '../../main/trade/reshootBilling.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { SelectField } from '../parts/field.tsx'
import { Form } from '../parts/form.tsx'
import { dayIn, dayText, moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import type { JobExtras, Reshoot } from './extraValue.ts'
import { LetGoDialog } from './letGoDialog.tsx'

const causeWords: Readonly<Record<Reshoot['cause'], string>> = {
  ours: 'ours',
  "client's wish": 'client’s wish',
  sample: 'the sample',
  carrier: 'the carrier',
}

type Open = { readonly what: 'propose' | 'let go'; readonly reshoot: Reshoot }

/** Every spin of the job that was to be turned again: why, and whether it is billed. */
export function ReshootsPart({ data }: { readonly data: JobExtras }) {
  const [open, setOpen] = useState<Open>()
  const { today, timeZone } = useStudio()
  const close = () => setOpen(undefined)
  const columns: readonly Column<Reshoot>[] = [
    { key: 'spin', head: 'Spin', cell: ({ spin }) => spin },
    {
      key: 'asked',
      head: 'Called for',
      cell: ({ askedAt }) => dayText(dayIn(timeZone, new Date(askedAt)), today),
    },
    { key: 'cause', head: 'Cause', cell: ({ cause }) => causeWords[cause] },
    { key: 'reason', head: 'Reason', cell: ({ reason }) => reason },
    { key: 'why', head: 'Billed', cell: ({ why }) => why },
    {
      key: 'act',
      head: 'What becomes of it',
      isHeadSpoken: true,
      tight: true,
      cell: (reshoot) =>
        canPropose(reshoot.standing) && data.hasOrder ? (
          <ButtonRow>
            <Button
              aria-label={`Propose an extra for ${reshoot.spin}`}
              onClick={() => setOpen({ what: 'propose', reshoot })}
            >
              Propose
            </Button>
            <Button
              kind="quiet"
              aria-label={`Let ${reshoot.spin} go unbilled`}
              onClick={() => setOpen({ what: 'let go', reshoot })}
            >
              Let go
            </Button>
          </ButtonRow>
        ) : null,
    },
  ]
  return (
    <Part title="Turned again">
      <Table
        caption="Reshoots of the job, and whether they are billed"
        columns={columns}
        rows={data.reshoots}
        keyOf={({ id }) => id}
        empty={<Empty sentence="No spin of this job was called for again." />}
      />
      {open?.what === 'propose' ? (
        <ProposeDialog reshoot={open.reshoot} currency={data.currency} onClose={close} />
      ) : null}
      {open?.what === 'let go' ? (
        <LetGoDialog
          title={`Let ${open.reshoot.spin} go unbilled`}
          letGo={(reason) => api.extras.letReshootGo.mutate({ reshootId: open.reshoot.id, reason })}
          onClose={close}
        />
      ) : null}
    </Part>
  )
}

function ProposeDialog(props: {
  readonly reshoot: Reshoot
  readonly currency: string
  readonly onClose: () => void
}) {
  const { reshoot, currency, onClose } = props
  const [price, setPrice] = useState<'own' | 'following'>('own')
  const say = useNotice()
  const propose = useAct(
    () => api.extras.proposeReshoot.mutate({ reshootId: reshoot.id, price }),
    () => {
      say('Proposed. It is billed once the client’s yes is written down.')
      onClose()
    },
  )
  const own = `as its own line: ${moneyText(reshoot.spinPriceMinor, currency)}`
  const following = `as the cheapest spin of the order: ${moneyText(reshoot.followingPriceMinor, currency)}`
  return (
    <Dialog title={`Bill ${reshoot.spin} again`} onClose={onClose}>
      <Form onSubmit={() => propose.run()} refusal={propose.refusal}>
        <p>{reshoot.why}</p>
        <SelectField
          label="Price"
          value={price}
          options={[
            { value: 'own', label: own },
            { value: 'following', label: following },
          ]}
          hint="Its own line holds what it takes to set it up for the first time. Where the set still stands, the price of spins that follow is fairer."
          onChange={setPrice}
        />
        <p>The price can still be changed before the client answers.</p>
        <ButtonRow>
          <Button type="submit" kind="main" busy={propose.busy}>
            Propose it
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
