import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { CheckField, DateField, SelectField, TimeField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { clockText, countText, durationText, weekdayText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { minuteOf } from './clockField.ts'
import { Overruling } from './overruling.tsx'
import type { WaitingGroup } from './waitingSpins.tsx'

type Proposal = Answers['bookings']['propose']

/** A block by hand while it is typed; times as a time field holds them. */
interface HandTimes {
  readonly day: string
  readonly from: string
  readonly to: string
  readonly setChangeMinutes: number | null
}

/** Books the spins of one job on one rig: in the first free stretches, or one block at times set by hand. */
export function BookSpinsDialog(props: {
  readonly group: WaitingGroup
  readonly fromDay: string
  readonly onClose: () => void
}) {
  const { group, onClose } = props
  const say = useNotice()
  const benches = useAsk(['benches', 'list'], () => api.benches.list.query({ gone: false }))
  const [chosenBench, setBench] = useState<number>()
  const benchId = chosenBench ?? benches.data?.[0]?.id
  const [fromDay, setFromDay] = useState(props.fromDay)
  const [count, setCount] = useState<number | null>(group.spins)
  const [hand, setHand] = useState<HandTimes>()
  const shootIds = group.shootIds.slice(0, Math.max(1, count ?? group.spins))
  const proposal = useProposal(benchId, shootIds, fromDay)
  const book = useAct(
    (reason: string | null) =>
      api.bookings.add.mutate({ blocks: blocksToBook(benchId ?? 0, shootIds, proposal.data, hand, reason) }),
    ({ bookingIds }) => {
      say(`${countText(bookingIds.length, 'block')} booked for ${group.number}.`)
      onClose()
    },
  )
  const blockCount = hand ? 1 : (proposal.data?.blocks.length ?? 0)
  return (
    <Dialog title={`Book ${group.number}, ${group.client}`} onClose={onClose} wide>
      <Form
        refusal={book.refusal?.canOverrule ? undefined : book.refusal}
        onSubmit={() => (blockCount > 0 ? book.run(null) : undefined)}
      >
        <p>
          {`${countText(group.spins, 'spin')} on ${group.rig ?? 'no rig yet'}. `}
          {group.rigRevisionId === null ? (
            <Link to={`/jobs/${group.jobId}/bench`}>
              Plan a rig first; without it no set change is counted.
            </Link>
          ) : null}
        </p>
        <FieldLine>
          <SelectField
            label="Bench"
            name="benchId"
            value={benchId === undefined ? '' : String(benchId)}
            options={(benches.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
            onChange={(id) => setBench(Number(id))}
          />
          <NumberField label="How many spins" value={count} onChange={setCount} />
          {hand ? null : (
            <DateField label="From" value={fromDay} onChange={(day) => setFromDay(day || props.fromDay)} />
          )}
        </FieldLine>
        <CheckField
          label="Set the times by hand, in one block"
          checked={hand !== undefined}
          onChange={(checked) => setHand(checked ? handFrom(proposal.data, fromDay) : undefined)}
        />
        {hand ? (
          <HandFields value={hand} onChange={setHand} />
        ) : (
          <ProposedBlocks proposal={proposal.data} total={shootIds.length} />
        )}
        <AtRisk atRisk={proposal.data?.atRisk ?? null} />
        <Overruling
          refusal={book.refusal}
          act="Book it all the same"
          busy={book.busy}
          onOverrule={(reason) => book.run(reason)}
        />
        {book.refusal?.canOverrule ? null : (
          <ButtonRow>
            <Button type="submit" kind="main" busy={book.busy} disabled={blockCount === 0}>
              {blockCount > 1 ? `Book these ${blockCount} blocks` : 'Book this block'}
            </Button>
            <Button onClick={onClose}>Leave it</Button>
          </ButtonRow>
        )}
      </Form>
    </Dialog>
  )
}

function useProposal(benchId: number | undefined, shootIds: readonly number[], fromDay: string) {
  return useAsk(
    ['bookings', 'propose', benchId, shootIds, fromDay],
    () => api.bookings.propose.query({ benchId: benchId ?? 0, shootIds: [...shootIds], fromDay }),
    { when: benchId !== undefined },
  )
}

function blocksToBook(
  benchId: number,
  shootIds: readonly number[],
  proposal: Proposal | undefined,
  hand: HandTimes | undefined,
  overruledReason: string | null,
) {
  if (hand) {
    return [
      {
        benchId,
        day: hand.day,
        fromMinute: minuteOf(hand.from) ?? 0,
        toMinute: minuteOf(hand.to) ?? 0,
        setChangeMinutes: hand.setChangeMinutes ?? 0,
        shootIds: [...shootIds],
        overruledReason,
      },
    ]
  }
  return (proposal?.blocks ?? []).map((block) => ({
    benchId,
    day: block.day,
    fromMinute: block.fromMinute,
    toMinute: block.toMinute,
    setChangeMinutes: block.setChangeMs / 60_000,
    shootIds: [...block.shootIds],
    overruledReason,
  }))
}

function handFrom(proposal: Proposal | undefined, fromDay: string): HandTimes {
  const block = proposal?.blocks[0]
  if (!block) return { day: fromDay, from: '', to: '', setChangeMinutes: 0 }
  return {
    day: block.day,
    from: clockText(block.fromMinute),
    to: clockText(block.toMinute),
    setChangeMinutes: block.setChangeMs / 60_000,
  }
}

function HandFields(props: { readonly value: HandTimes; readonly onChange: (value: HandTimes) => void }) {
  const { value, onChange } = props
  return (
    <FieldLine>
      <DateField label="Day" name="day" value={value.day} onChange={(day) => onChange({ ...value, day })} />
      <TimeField
        label="From"
        name="fromMinute"
        value={value.from}
        onChange={(from) => onChange({ ...value, from })}
      />
      <TimeField label="To" name="toMinute" value={value.to} onChange={(to) => onChange({ ...value, to })} />
      <NumberField
        label="Of it, set change"
        unit="min"
        name="setChangeMinutes"
        value={value.setChangeMinutes}
        onChange={(setChangeMinutes) => onChange({ ...value, setChangeMinutes })}
      />
    </FieldLine>
  )
}

function ProposedBlocks(props: { readonly proposal: Proposal | undefined; readonly total: number }) {
  const { proposal } = props
  const { today } = useStudio()
  const unplaced = proposal?.unplaced.length ?? 0
  return (
    <>
      <Table
        caption="Blocks in the first free stretches"
        rows={proposal?.blocks}
        keyOf={({ day, fromMinute }) => `${day} ${fromMinute}`}
        columns={[
          { key: 'day', head: 'Day', cell: ({ day }) => weekdayText(day, today) },
          {
            key: 'time',
            head: 'Time',
            figure: true,
            cell: ({ fromMinute, toMinute }) => `${clockText(fromMinute)} to ${clockText(toMinute)}`,
          },
          {
            key: 'change',
            head: 'Set change',
            figure: true,
            cell: ({ setChangeMs, rigBefore }) =>
              setChangeMs === 0
                ? 'none'
                : `${durationText(setChangeMs / 60_000)}${rigBefore ? ` from ${rigBefore}` : ''}`,
          },
          { key: 'spins', head: 'Spins', figure: true, cell: ({ shootIds }) => shootIds.length },
          {
            key: 'turning',
            head: 'At the bench',
            figure: true,
            cell: ({ spinsMs }) => durationText(spinsMs / 60_000),
          },
        ]}
        empty={
          <p>
            No free stretch within 90 days is long enough. Set the times by hand, or open the bench longer.
          </p>
        }
      />
      {unplaced > 0 && unplaced < props.total ? (
        <p>{`${countText(unplaced, 'spin')} found no place within 90 days.`}</p>
      ) : null}
      {proposal && proposal.withoutEstimate > 0 ? (
        <p
          className={words.quiet}
        >{`${countText(proposal.withoutEstimate, 'spin')} without an estimate: the time is a guess.`}</p>
      ) : null}
    </>
  )
}

function AtRisk({ atRisk }: { readonly atRisk: Proposal['atRisk'] }) {
  if (!atRisk) return null
  return (
    <p>{`The first spin, ${atRisk.firstSpin}, has no yes yet: ${durationText(atRisk.ms / 60_000)} at the bench would be lost if the client wants it otherwise.`}</p>
  )
}
