import { Link } from 'react-router'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { countText, numberText, secondsText } from '../parts/format.ts'
import { Ring } from '../parts/ring.tsx'
import type { Selection } from '../parts/selection.ts'
import { type Column, Table } from '../parts/table.tsx'
import { useStudio } from '../shell/studio.ts'
import css from './takesFound.module.css'
import type { Joins, Sorted } from './takesFoundPage.tsx'

type Found = Sorted['takes'][number]
type Spin = Sorted['spins'][number]

/** What is proposed to be kept: whole turns whose spin is known. */
export function isToKeep({ standing, spin, kept }: Found): boolean {
  return spin !== null && kept === null && (standing === 'whole' || standing === 'too long')
}

/** The takes that lie on the cards, in the order they were shot. */
export function FoundTable(props: {
  readonly takes: readonly Found[]
  readonly spins: readonly Spin[]
  readonly onDecide: (key: string, shootId: number) => void
  readonly onJoin: (joins: Joins) => void
  readonly selection: Selection<string>
}) {
  const { timeZone } = useStudio()
  const columns: readonly Column<Found>[] = [
    {
      key: 'spin',
      head: 'Spin',
      cell: (take) => <SpinOf take={take} spins={props.spins} onDecide={props.onDecide} />,
    },
    {
      key: 'ring',
      head: 'The turn, drawn',
      isHeadSpoken: true,
      tight: true,
      // How much of a turn it is, nobody knows before its spin is named.
      cell: ({ frames, turnFrames }) =>
        turnFrames === null ? null : <Ring size={26} framesPerTurn={turnFrames} done={frames} label="" />,
    },
    { key: 'stands', head: 'Stands', cell: (take) => <Stands take={take} onJoin={props.onJoin} /> },
    { key: 'shot', head: 'Shot', cell: ({ startMs, endMs }) => shotText(startMs, endMs, timeZone) },
    {
      key: 'step',
      head: 'A frame takes',
      figure: true,
      cell: ({ medianStepMs }) => (medianStepMs === null ? '' : secondsText(medianStepMs / 1000)),
    },
    {
      key: 'files',
      head: 'Files',
      cell: ({ folders, firstFile, lastFile }) => (
        <span className={words.mono} title={folders.join(', then ')}>
          {firstFile === lastFile ? firstFile : `${firstFile} to ${lastFile}`}
        </span>
      ),
    },
  ]
  return (
    <Table
      caption="Takes that lie on the cards"
      columns={columns}
      rows={props.takes}
      keyOf={({ key }) => key}
      counted={['take', 'takes']}
      selection={props.selection}
      empty={null}
    />
  )
}

/** The spin by its ticket; else the person says which, the likeliest first and why. */
function SpinOf(props: {
  readonly take: Found
  readonly spins: readonly Spin[]
  readonly onDecide: (key: string, shootId: number) => void
}) {
  const { take, spins } = props
  if (take.spin?.by === 'ticket') {
    return <NamedSpin {...take.spin} />
  }
  const likely = take.candidates.flatMap(({ shootId, why }) => {
    const spin = spins.find((one) => one.shootId === shootId)
    return spin ? [{ spin, why }] : []
  })
  const rest = spins.filter(({ shootId }) => !likely.some(({ spin }) => spin.shootId === shootId))
  const chosen = take.spin?.shootId
  return (
    <div className={css.which}>
      <SelectField
        label={`Which spin are the ${countText(take.frames, 'frame')} from ${take.firstFile}?`}
        value={chosen === undefined ? '0' : String(chosen)}
        options={[
          { value: '0', label: 'nobody has said yet' },
          ...likely.map(({ spin }) => ({ value: String(spin.shootId), label: `likely ${spin.label}` })),
          ...rest.map((spin) => ({ value: String(spin.shootId), label: spin.label })),
        ]}
        onChange={(value) => props.onDecide(take.key, Number(value))}
        hint={likely[0] && chosen === undefined ? `${likely[0].spin.label}? ${likely[0].why}` : undefined}
      />
    </div>
  )
}

/** `KN-01 Mug, oat, J-2026-0028, row 2`; the job's number is not broken at its hyphens. */
function NamedSpin(spin: { readonly label: string; readonly rows: number; readonly row: number }) {
  const job = spin.label.lastIndexOf(' ') + 1
  return (
    <>
      {spin.label.slice(0, job)}
      <span className={css.whole}>{spin.label.slice(job)}</span>
      {spin.rows > 1 ? `, row\u00a0${spin.row + 1}` : ''}
    </>
  )
}

function Stands({ take, onJoin }: { readonly take: Found; readonly onJoin: (joins: Joins) => void }) {
  if (take.kept) {
    return (
      <Link to={`/jobs/${take.kept.jobId}/takes?spin=${take.kept.shootId}`}>
        {`written down as take ${numberText(take.kept.number)}`}
      </Link>
    )
  }
  return (
    <>
      {take.sentence}
      {take.gapsAfter.length > 0 ? (
        <span className={words.quiet}>
          {` Nobody turned for long after frame ${take.gapsAfter.map((frame) => numberText(frame)).join(', ')}.`}
        </span>
      ) : null}
      <Parts take={take} onJoin={onJoin} />
    </>
  )
}

/** What belongs together over two folders is offered, and decided by the person; what was joined can be parted again. */
function Parts({ take, onJoin }: { readonly take: Found; readonly onJoin: (joins: Joins) => void }) {
  const { goesOn, folders, joined, key } = take
  if (goesOn?.isKeptApart) {
    return (
      <div className={css.parts}>
        <Button kind="quiet" onClick={() => onJoin({ [key]: goesOn.key })}>
          Join it to the take before after all
        </Button>
      </div>
    )
  }
  if (goesOn) {
    return (
      <div className={css.parts}>
        <p className={words.quiet}>{goesOn.why}</p>
        <ButtonRow>
          <Button onClick={() => onJoin({ [key]: goesOn.key })}>Join them</Button>
          <Button kind="quiet" onClick={() => onJoin({ [key]: null })}>
            Keep it apart
          </Button>
        </ButtonRow>
      </div>
    )
  }
  if (joined.length === 0) return null
  return (
    <div className={css.parts}>
      <p className={words.quiet}>
        {`One take over ${countText(folders.length, 'folder')}: `}
        <span className={`${words.mono} ${css.path}`}>{folders.join(', then ')}</span>
      </p>
      <ButtonRow>
        <Button kind="quiet" onClick={() => onJoin(Object.fromEntries(joined.map((part) => [part, null])))}>
          Take it apart
        </Button>
      </ButtonRow>
    </div>
  )
}

/** `3 Mar 08:30 to 08:55`, on the studio's clock; in a narrow column the day stands above. */
function shotText(startMs: number | null, endMs: number | null, timeZone: string): string {
  if (startMs === null || endMs === null) return ''
  const part = (options: Intl.DateTimeFormatOptions, at: number) =>
    new Intl.DateTimeFormat('en-GB', { timeZone, ...options }).format(at).replaceAll(' ', '\u00a0')
  const clock = { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' } as const
  return `${part({ day: 'numeric', month: 'short' }, startMs)} ${part(clock, startMs)}\u00a0to\u00a0${part(clock, endMs)}`
}
