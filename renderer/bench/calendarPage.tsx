import { useState } from 'react'
import { useSearchParams } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { addDays } from '../../main/trade/calendar.ts'
import { saveFile } from '../jobs/saveFile.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Confirm } from '../parts/dialog.tsx'
import { CheckField, DateField, SelectField } from '../parts/field.tsx'
import { FieldLine, Form, FormRefusal } from '../parts/form.tsx'
import { countText, dayIn, weekdayText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Page, Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'

type Feed = NonNullable<Answers['calendar']['feed']>

/** The blocks for calendar programs: as a file of some days, and at an address of this computer. */
export function CalendarPage() {
  return (
    <Page
      title="For a calendar"
      lead="What is booked on the benches, for a calendar program. Prices are never in it."
      acts={<ButtonLink to="/bench">Bench plan</ButtonLink>}
    >
      <CalendarFile />
      <Subscription />
    </Page>
  )
}

const everyBench = 'all'

/** Saves the blocks of some days as a file; it says how they are now and is not brought up to date. */
function CalendarFile() {
  const { today } = useStudio()
  const say = useNotice()
  const [params] = useSearchParams()
  const benches = useAsk(['benches', 'list'], () => api.benches.list.query())
  const [benchId, setBench] = useState(params.get('bench') ?? everyBench)
  const [fromDay, setFromDay] = useState(params.get('day') ?? today)
  const [toDay, setToDay] = useState(addDays(params.get('day') ?? today, params.has('day') ? 0 : 27))
  const [withNames, setNames] = useState(false)
  const save = useAct(
    () =>
      api.calendar.file.query({
        benchId: benchId === everyBench ? null : Number(benchId),
        fromDay,
        toDay,
        withNames,
      }),
    ({ text, fileName, blocks }) => {
      if (blocks === 0) {
        say('Nothing is booked in these days, so there is no file to save.')
        return
      }
      saveFile(fileName, text, 'text/calendar')
      say(`${countText(blocks, 'block')} in ${fileName}.`)
    },
  )
  return (
    <Part title="As a file">
      <p className={words.quiet}>
        An iCalendar file says how things are now. Taken in again after a move, the same blocks move with it.
      </p>
      <Form label="Save a calendar file" refusal={save.refusal} onSubmit={() => save.run()}>
        <FieldLine>
          <SelectField
            label="Bench"
            name="benchId"
            value={benchId}
            options={[
              { value: everyBench, label: 'All benches' },
              ...(benches.data ?? []).map(({ id, name }) => ({ value: String(id), label: name })),
            ]}
            onChange={setBench}
          />
          <DateField label="From" name="fromDay" width="narrow" value={fromDay} onChange={setFromDay} />
          <DateField label="To, included" name="toDay" width="narrow" value={toDay} onChange={setToDay} />
        </FieldLine>
        <NamesField checked={withNames} onChange={setNames} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            Save the calendar file
          </Button>
        </ButtonRow>
      </Form>
    </Part>
  )
}

function NamesField(props: { readonly checked: boolean; readonly onChange: (checked: boolean) => void }) {
  return (
    <CheckField
      label="Name clients and what is spun"
      hint="Without names it says the order’s number, rig, bench and people. Leave them out where others can look into your calendar."
      {...props}
    />
  )
}

/** The address that calendar programs of this computer read by themselves. */
function Subscription() {
  const feed = useAsk(['calendar', 'feed'], () => api.calendar.feed.query())
  return (
    <Part title="Brought up to date by itself">
      <p className={words.quiet}>
        A calendar program can subscribe to an address and then asks by itself what has moved. Only programs
        on this computer reach it, and only while Turnsheet runs with its browser door open; a telephone or a
        calendar kept elsewhere cannot. Whoever knows the address can read the bench plan, so treat it as a
        key.
      </p>
      <Asked of={feed}>{(open) => (open ? <OpenFeed feed={open} /> : <ClosedFeed />)}</Asked>
    </Part>
  )
}

function ClosedFeed() {
  const [withNames, setNames] = useState(false)
  const open = useAct(() => api.calendar.open.mutate({ withNames }))
  return (
    <Form label="Make an address" refusal={open.refusal} onSubmit={() => open.run()}>
      <NamesField checked={withNames} onChange={setNames} />
      <ButtonRow>
        <Button type="submit" busy={open.busy}>
          Make an address
        </Button>
      </ButtonRow>
    </Form>
  )
}

function OpenFeed({ feed }: { readonly feed: Feed }) {
  const say = useNotice()
  const { timeZone, today } = useStudio()
  const [asking, setAsking] = useState<'renew' | 'close'>()
  const choose = useAct((withNames: boolean) => api.calendar.chooseNames.mutate({ withNames }))
  const copy = useAct(
    (address: string) => navigator.clipboard.writeText(address),
    () => say('The address is copied. Paste it where the calendar program asks for a calendar’s address.'),
  )
  const { address } = feed
  return (
    <>
      {address ? (
        <p>
          <span className={words.mono}>{address}</span>
        </p>
      ) : (
        <p>
          The browser door is closed, so nothing answers now. Open it in the menu under File, and the address
          is shown here. It stays the same as long as the door gets the same port.
        </p>
      )}
      <p
        className={words.quiet}
      >{`Made on ${weekdayText(dayIn(timeZone, new Date(feed.madeAt)), today)}.`}</p>
      <NamesField checked={feed.withNames} onChange={(withNames) => choose.run(withNames)} />
      <ButtonRow>
        {address ? (
          <Button busy={copy.busy} onClick={() => copy.run(address)}>
            Copy the address
          </Button>
        ) : null}
        <Button onClick={() => setAsking('renew')}>Make a new address</Button>
        <Button kind="grave" onClick={() => setAsking('close')}>
          Switch it off
        </Button>
      </ButtonRow>
      {[choose.refusal, copy.refusal].map((refusal) =>
        refusal ? <FormRefusal key={refusal.sentence} sentence={refusal.sentence} /> : null,
      )}
      {asking ? <EndAddress feed={feed} what={asking} onClose={() => setAsking(undefined)} /> : null}
    </>
  )
}

/** Asks before the address that calendar programs know stops answering. */
function EndAddress(props: {
  readonly feed: Feed
  readonly what: 'renew' | 'close'
  readonly onClose: () => void
}) {
  const isNew = props.what === 'renew'
  const end = useAct(
    () =>
      isNew ? api.calendar.open.mutate({ withNames: props.feed.withNames }) : api.calendar.close.mutate(),
    props.onClose,
  )
  return (
    <Confirm
      title={isNew ? 'Make a new address' : 'Switch the address off'}
      sentence={`The address there is now stops answering at once. Calendar programs that read it keep what they read last and have to be told ${isNew ? 'the new address' : 'to forget it'}.`}
      act={isNew ? 'Make a new address' : 'Switch it off'}
      grave={!isNew}
      refusal={end.refusal}
      busy={end.busy}
      onConfirm={() => end.run()}
      onClose={props.onClose}
    />
  )
}
