import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { DateField, SelectField, TimeField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { clockText, countText, durationText, weekdayText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { cancelledText, labelOf } from './blockWords.ts'
import { minuteOf } from './clockField.ts'
import { madeText } from './lifted.ts'
import { Overruling } from './overruling.tsx'

type Booking = Answers['bookings']['one']

/** One block: what is done in it, and the way to move or cancel it. */
export function BookingDialog(props: {
  readonly bookingId: number
  readonly onClose: () => void
  /** Takes the block up, to be moved on the plan with its effect before one's eyes. */
  readonly onLift: () => void
}) {
  const answer = useAsk(['bookings', 'one', props.bookingId], () =>
    api.bookings.one.query({ bookingId: props.bookingId }),
  )
  return (
    <Dialog title={answer.data ? labelOf(answer.data) : 'Block'} onClose={props.onClose}>
      <Asked of={answer}>
        {(booking) => (
          <Block key={booking.sequence} booking={booking} onClose={props.onClose} onLift={props.onLift} />
        )}
      </Asked>
    </Dialog>
  )
}

function Block(props: {
  readonly booking: Booking
  readonly onClose: () => void
  readonly onLift: () => void
}) {
  const { booking, onClose } = props
  const { today } = useStudio()
  const say = useNotice()
  const cancel = useAct(
    () => api.bookings.cancel.mutate({ bookingId: booking.id }),
    ({ partlyBooked }) => {
      say(cancelledText(partlyBooked))
      onClose()
    },
  )
  const fix = useAct(
    () => api.bookings.fix.mutate({ bookingId: booking.id, isFixed: !booking.isFixed }),
    () => say(booking.isFixed ? 'The block may move again.' : 'The block is fixed where it is.'),
  )
  return (
    <>
      <p>
        {`${booking.bench}, ${weekdayText(booking.day, today)}, ${clockText(booking.fromMinute)} to ${clockText(booking.toMinute)}`}
        {booking.people.length > 0 ? `, ${booking.people.map(({ name }) => name).join(', ')}` : ''}
      </p>
      {booking.jobId === null ? null : (
        <p>
          <Link to={`/jobs/${booking.jobId}/takes`}>{`Takes of ${booking.jobNumber ?? 'the job'}`}</Link>
          {`, ${countText(booking.spins.length, 'spin')}: ${booking.spins.map(({ name }) => name).join(', ')}`}
        </p>
      )}
      {booking.overruledReason ? (
        <p className={words.quiet}>{`Booked all the same, because: ${booking.overruledReason}`}</p>
      ) : null}
      {booking.isFixed ? (
        <p>It is fixed: neither a plan nor another block moves it.</p>
      ) : (
        <MoveForm booking={booking} onClose={onClose} />
      )}
      <ButtonRow>
        {booking.isFixed ? null : <Button onClick={props.onLift}>Move it on the plan</Button>}
        <Button busy={fix.busy} onClick={() => fix.run()}>
          {booking.isFixed ? 'Let it move again' : 'Fix it here'}
        </Button>
        <Button kind="grave" busy={cancel.busy} onClick={() => cancel.run()}>
          Cancel the block
        </Button>
      </ButtonRow>
    </>
  )
}

function MoveForm({ booking, onClose }: { readonly booking: Booking; readonly onClose: () => void }) {
  const say = useNotice()
  const { today } = useStudio()
  const benches = useAsk(['benches', 'list'], () => api.benches.list.query({ gone: false }))
  const [benchId, setBench] = useState(booking.benchId as number)
  const [day, setDay] = useState(booking.day)
  const [from, setFrom] = useState(clockText(booking.fromMinute - booking.setChangeMinutes))
  const move = useAct(
    (overruledReason: string | null) =>
      api.bookings.move.mutate({
        bookingId: booking.id,
        benchId,
        day,
        fromMinute: minuteOf(from) ?? 0,
        overruledReason,
      }),
    (effect) => {
      say(madeText(effect, today))
      onClose()
    },
  )
  return (
    <Form
      label="Move the block"
      refusal={move.refusal?.canOverrule ? undefined : move.refusal}
      onSubmit={() => move.run(null)}
    >
      <FieldLine>
        <SelectField
          label="Bench"
          name="benchId"
          width="narrow"
          value={String(benchId)}
          options={(benches.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
          onChange={(id) => setBench(Number(id))}
        />
        <DateField label="Day" name="day" width="narrow" value={day} onChange={setDay} />
        <TimeField
          label="From"
          name="fromMinute"
          hint={
            booking.setChangeMinutes > 0
              ? `Begins with the set change of ${durationText(booking.setChangeMinutes)}.`
              : undefined
          }
          value={from}
          onChange={setFrom}
        />
      </FieldLine>
      <Overruling
        refusal={move.refusal}
        act="Move it all the same"
        busy={move.busy}
        onOverrule={(reason) => move.run(reason)}
      />
      <Button type="submit" busy={move.busy}>
        Move the block
      </Button>
    </Form>
  )
}
