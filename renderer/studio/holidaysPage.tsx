import { useState } from 'react'
import { useNavigate } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { FileDrop } from '../parts/fileDrop.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { clockText, countText, dayText, weekdayText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Part } from '../parts/page.tsx'
import { type Selection, useSelection } from '../parts/selection.ts'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './screen.module.css'

type Preview = Answers['holidays']['preview']
type Holiday = Preview['holidays'][number]

/** A calendar file that has been picked, and what it would close. */
interface Picked {
  readonly fileName: string
  readonly text: string
  readonly preview: Preview
}

/** Takes public holidays from an iCalendar file: the file, what it would close, and only then the days. */
export function HolidaysPage() {
  const [picked, setPicked] = useState<Picked>()
  const selection = useSelection<string>()
  const read = useAct(
    async (file: File) => {
      const text = await file.text()
      return { fileName: file.name, text, preview: await api.holidays.preview.query({ text }) }
    },
    (one) => {
      selection.choose(one.preview.holidays.filter(isLikely).map(({ sourceUid }) => sourceUid))
      setPicked(one)
    },
  )
  return (
    <div className={css.parts}>
      <Part title="Public holidays" acts={<ButtonLink to="/studio/benches">Benches and hours</ButtonLink>}>
        <p className={css.note}>
          Towns, schools and states give their holidays out as calendar files. Nothing is closed before you
          have seen the days. Take the file in again next year: no day is doubled, and one that has moved is
          moved.
        </p>
        <FileDrop
          label={picked ? picked.fileName : 'Drop a calendar file here'}
          act={picked ? 'Pick another file' : 'Pick a file'}
          hint="An iCalendar file; its name ends in .ics."
          accept=".ics,text/calendar"
          busy={read.busy}
          onFile={read.run}
        />
        {read.refusal ? <FormRefusal sentence={read.refusal.sentence} /> : null}
      </Part>
      {picked ? <Taking picked={picked} selection={selection} /> : null}
    </div>
  )
}

/** What a person would mostly take: whole days that are worked otherwise, and whatever has changed since. */
function isLikely({ does, closedBy, isShutAnyway, partOfDay }: Holiday): boolean {
  if (does === 'changes' || does === 'opens') return true
  return does === 'closes' && closedBy === null && !isShutAnyway && partOfDay === null
}

function Taking(props: { readonly picked: Picked; readonly selection: Selection<string> }) {
  const { picked, selection } = props
  const { preview, text, fileName } = picked
  const { today } = useStudio()
  const say = useNotice()
  const navigate = useNavigate()
  const { holidays } = preview
  const chosen = holidays.filter(({ sourceUid, does }) => does !== 'nothing' && selection.has(sourceUid))
  const take = useAct(
    () => api.holidays.take.mutate({ text, fileName, sourceUids: chosen.map(({ sourceUid }) => sourceUid) }),
    ({ closed, changed, opened }) => {
      say(
        [
          closed > 0 && `${countText(closed, 'closure')} added`,
          changed > 0 && `${countText(changed, 'closure')} changed`,
          opened > 0 && `${countText(opened, 'closure')} taken away`,
        ]
          .filter(Boolean)
          .join(', '),
      )
      void navigate('/studio/benches')
    },
  )
  return (
    <Part title="What it would close">
      <p className={words.quiet}>{summaryOf(preview, today)}</p>
      <Form label="Take in the chosen days" refusal={take.refusal} onSubmit={() => take.run()}>
        <Table
          caption="Days of the calendar file"
          columns={columns(today)}
          rows={holidays}
          keyOf={({ sourceUid }) => sourceUid}
          selection={selection}
          empty={
            <Empty sentence="No day of this calendar is still to come. Pick one of this year or the next." />
          }
        />
        <Blocks of={chosen.filter(({ does }) => does !== 'opens')} />
        <Unread preview={preview} />
        <ButtonRow>
          <Button type="submit" kind="main" disabled={chosen.length === 0} busy={take.busy}>
            {chosen.length === 0
              ? 'Nothing to take in'
              : `Take in ${countText(chosen.length, 'entry', 'entries')}`}
          </Button>
        </ButtonRow>
      </Form>
    </Part>
  )
}

function summaryOf({ holidays, outside, toDay }: Preview, today: string): string {
  const there = holidays.filter(({ does }) => does === 'nothing').length
  return [
    `${countText(holidays.length, 'entry', 'entries')} from today to ${dayText(toDay, today)}`,
    there > 0 && `${there} of them ${there === 1 ? 'is' : 'are'} in the studio already`,
    outside > 0 && `${outside} before or after ${outside === 1 ? 'is' : 'are'} left out`,
  ]
    .filter(Boolean)
    .join('; ')
}

function columns(today: string): readonly Column<Holiday>[] {
  return [
    { key: 'name', head: 'Name', cell: ({ name }) => name },
    { key: 'from', head: 'From', tight: true, cell: ({ fromDay }) => weekdayText(fromDay, today) },
    {
      key: 'to',
      head: 'To, included',
      tight: true,
      cell: ({ fromDay, toDay }) => (toDay === fromDay ? '' : weekdayText(toDay, today)),
    },
    { key: 'does', head: 'What it does', cell: (holiday) => doesText(holiday, today) },
  ]
}

function doesText({ does, before, closedBy, isShutAnyway, partOfDay }: Holiday, today: string): string {
  if (does === 'nothing') return 'is there already'
  if (does === 'opens') return 'was called off: opens again'
  if (does === 'changes' && before) {
    return `changes ${before.reason}, ${weekdayText(before.fromDay, today)}${before.toDay === before.fromDay ? '' : ` to ${weekdayText(before.toDay, today)}`}`
  }
  return [
    partOfDay ? `is only ${partOfDay}, and would close the whole day` : 'closes the whole studio',
    closedBy && `closed already: ${closedBy}`,
    isShutAnyway && 'no bench opens on that weekday',
  ]
    .filter(Boolean)
    .join('; ')
}

/** What is booked on the days that would be closed: it stays, and is named, so that a person moves it. */
function Blocks({ of }: { readonly of: readonly Holiday[] }) {
  const { today } = useStudio()
  const blocks = [
    ...new Map(of.flatMap(({ blocks: some }) => some).map((block) => [block.id, block])).values(),
  ]
  if (blocks.length === 0) return null
  return (
    <div role="status">
      <p>{`${countText(blocks.length, 'block')} ${blocks.length === 1 ? 'lies' : 'lie'} on these days. They stay booked until you move them:`}</p>
      <ul>
        {blocks.slice(0, mostListed).map(({ id, bench, day, fromMinute, toMinute, what }) => (
          <li key={id}>
            {`${weekdayText(day, today)}, ${clockText(fromMinute)} to ${clockText(toMinute)}, ${bench}: ${what}`}
          </li>
        ))}
      </ul>
      {blocks.length > mostListed ? <p>{`and ${blocks.length - mostListed} more`}</p> : null}
    </div>
  )
}

const mostListed = 12

function Unread({ preview }: { readonly preview: Preview }) {
  if (preview.unreadCount === 0) return null
  const named = preview.unread.slice(0, mostListed)
  return (
    <p className={words.quiet}>
      {`${countText(preview.unreadCount, 'event')} could not be read: ${named.map(({ name, why }) => `${name} (${why})`).join('; ')}${preview.unreadCount > named.length ? ' and more' : ''}. Enter what you need of ${preview.unreadCount === 1 ? 'it' : 'them'} by hand.`}
    </p>
  )
}
