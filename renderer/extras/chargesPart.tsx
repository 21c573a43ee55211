import { useState } from 'react'
import { formatPercent } from '../../main/trade/money.ts'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { countText, dayText, moneyText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from '../studio/screen.module.css'
import type { Charge, JobExtras } from './extraValue.ts'
import { LetGoDialog } from './letGoDialog.tsx'

/** What the studio's terms would charge for the job's bench time: proposed from facts, never booked by itself. */
export function ChargesPart({ jobId, data }: { readonly jobId: number; readonly data: JobExtras }) {
  const [going, setGoing] = useState<Charge>()
  const { today } = useStudio()
  const say = useNotice()
  const keyOf = ({ kind, bookingId, at }: Charge) => ({ jobId, kind, bookingId, at })
  const propose = useAct(
    (charge: Charge) => api.extras.proposeCharge.mutate(keyOf(charge)),
    () => say('Proposed. It is billed once the client’s yes is written down.'),
  )
  const columns: readonly Column<Charge>[] = [
    { key: 'day', head: 'Bench time of', cell: ({ day }) => dayText(day, today) },
    { key: 'what', head: 'What happened', cell: whatHappened },
    {
      key: 'price',
      head: 'Booked',
      figure: true,
      cell: ({ priceMinor }) => moneyText(priceMinor, data.currency),
    },
    { key: 'share', head: 'Share', figure: true, cell: ({ term }) => formatPercent(term.chargePpm) },
    {
      key: 'charge',
      head: 'Charge',
      figure: true,
      cell: ({ chargeMinor }) => moneyText(chargeMinor, data.currency),
    },
    {
      key: 'act',
      head: 'What becomes of it',
      cell: (charge) => (
        <Standing
          charge={charge}
          onPropose={() => propose.run(charge)}
          onLetGo={() => setGoing(charge)}
          busy={propose.busy}
        />
      ),
    },
  ]
  return (
    <Part
      title="Bench time by the terms"
      acts={<ButtonLink to="/studio/terms">The studio’s terms</ButtonLink>}
    >
      <p className={css.note}>
        Only you know who was the cause: propose a charge where it was the client. What may be charged differs
        by country and by contract; ask your lawyer.
      </p>
      {propose.refusal ? <FormRefusal sentence={propose.refusal.sentence} /> : null}
      <Table
        caption="What the terms would charge for bench time"
        columns={columns}
        rows={data.charges}
        keyOf={({ kind, bookingId, at }) => `${kind} ${bookingId} ${at}`}
        empty={
          <Empty
            sentence={
              data.hasTerms
                ? 'Nothing was cancelled or moved so late that the terms charge for it, and no bench stood idle.'
                : 'The studio has no terms for cancelling, moving late or an idle bench.'
            }
          />
        }
      />
      {going ? (
        <LetGoDialog
          title="Let the charge go"
          letGo={(reason) => api.extras.letChargeGo.mutate({ ...keyOf(going), reason })}
          onClose={() => setGoing(undefined)}
        />
      ) : null}
    </Part>
  )
}

function whatHappened({ kind, noticeDays, person, spins }: Charge): string {
  const notice = noticeDays === 0 ? 'on the day itself' : `${countText(noticeDays, 'day')} before`
  const by = person === null ? '' : `, written down by ${person}`
  if (kind === 'idle bench')
    return `${countText(spins, 'spin')} could not be turned: the samples were missing`
  return `${kind === 'cancelling' ? 'cancelled' : 'moved'} ${notice}${by}`
}

function Standing(props: {
  readonly charge: Charge
  readonly busy: boolean
  readonly onPropose: () => void
  readonly onLetGo: () => void
}) {
  const { extra, letGoReason, day } = props.charge
  if (letGoReason !== null) return <>{`Let go: ${letGoReason}`}</>
  const said = extra ? `Extra ${extra.number}, ${extra.state}` : null
  if (extra && extra.state !== 'declined') return <>{said}</>
  return (
    <ButtonRow>
      {said}
      <Button busy={props.busy} aria-label={`Propose the charge for ${day}`} onClick={props.onPropose}>
        Propose
      </Button>
      <Button kind="quiet" aria-label={`Let the charge for ${day} go`} onClick={props.onLetGo}>
        Let go
      </Button>
    </ButtonRow>
  )
}
