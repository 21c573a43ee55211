import type { Answers } from '../../main/api/types.ts'
import { Asked } from '../parts/asked.tsx'
import { Button } from '../parts/button.tsx'
import { countText, numberText, percentText } from '../parts/format.ts'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { ErrorBar } from './errorBar.tsx'
import css from './figures.module.css'
import { minutesText, signedMinutes, signedPercent } from './figureWords.ts'

type State = Answers['figures']['backTest']
type Figures = NonNullable<Extract<State, { state: 'done' }>['figures']>

/** How close quotes would have come: every past spin quoted again by what was known before its job. */
export function BackTestPart() {
  const test = useAsk(['figures', 'backTest'], () => api.figures.backTest.query(), {
    againWhile: ({ state }) => state === 'working',
  })
  const begin = useAct(() => api.figures.startBackTest.mutate())
  const stop = useAct(() => api.figures.stopBackTest.mutate())
  return (
    <Part title="How close quotes come">
      <Asked of={test}>
        {(state) => {
          if (state.state === 'working') {
            return <Working done={state.done} takes={state.takes} onStop={() => stop.run()} />
          }
          if (state.state === 'stopped') {
            return (
              <Empty
                sentence="Stopped: past spins have not been quoted again."
                act={
                  <Button busy={begin.busy} onClick={() => begin.run()}>
                    Quote them again
                  </Button>
                }
              />
            )
          }
          return state.figures ? (
            <Closeness figures={state.figures} />
          ) : (
            <Empty sentence="No spin has been turned to its end yet. Once every row of one has a kept take, its quote is compared with the time it took." />
          )
        }}
      </Asked>
    </Part>
  )
}

function Working(props: { readonly done: number; readonly takes: number; readonly onStop: () => void }) {
  const { done, takes } = props
  return (
    <div className={css.working}>
      <p role="status">{`Quoting past spins again: ${numberText(done)} of ${countText(takes, 'take')}.`}</p>
      <progress aria-label="Takes gone through" max={Math.max(takes, 1)} value={done} />
      <Button onClick={props.onStop}>Stop</Button>
    </div>
  )
}

interface Row {
  readonly key: 'learned' | 'flat'
  readonly by: string
  readonly errors: Figures['learned']
}

function Closeness({ figures }: { readonly figures: Figures }) {
  const { spins, withHandling, realMs } = figures
  const rows: readonly Row[] = [
    { key: 'learned', by: 'Learned from takes', errors: figures.learned },
    { key: 'flat', by: 'Settings alone', errors: figures.flat },
  ]
  const handling =
    withHandling === 0
      ? ''
      : `, and for ${numberText(withHandling)} of them handling too, where the gap between takes shows it`
  const scaleTo = Math.max(...rows.map(({ errors }) => Math.max(errors.absoluteMs, Math.abs(errors.biasMs))))
  const columns: readonly Column<Row>[] = [
    { key: 'by', head: 'Quoted by', cell: ({ by }) => by, tight: true },
    {
      key: 'bias',
      head: 'Off on average',
      figure: true,
      cell: ({ errors }) => signedMinutes(errors.biasMs),
    },
    {
      key: 'biasShare',
      head: 'of the time',
      figure: true,
      cell: ({ errors }) => signedPercent(errors.biasShare),
    },
    {
      key: 'absolute',
      head: 'Off either way',
      figure: true,
      cell: ({ errors }) => minutesText(errors.absoluteMs),
    },
    {
      key: 'absoluteShare',
      head: 'of the time',
      figure: true,
      cell: ({ errors }) => percentText(errors.absoluteShare),
    },
    {
      key: 'bar',
      head: 'Too short, too long',
      isHeadSpoken: true,
      cell: ({ by, errors }) => (
        <ErrorBar label={by} biasMs={errors.biasMs} absoluteMs={errors.absoluteMs} scaleTo={scaleTo} />
      ),
    },
  ]
  return (
    <>
      <p className={css.note}>
        {`From ${countText(spins, 'spin')}, ${minutesText(realMs)} each on average. Every one is quoted again by what was known before the first take of its job, and by the settings as they stand today, and compared with the time it took: turning without breaks${handling}.`}
      </p>
      <Table
        caption="How far quotes were off"
        columns={columns}
        rows={rows}
        keyOf={({ key }) => key}
        empty={null}
      />
      <p className={css.verdict}>{verdict(figures)}</p>
    </>
  )
}

function verdict({ learned, flat }: Figures): string {
  const less = 1 - learned.absoluteMs / flat.absoluteMs
  if (less > 0.005)
    return `What takes have taught brings a quote ${percentText(less)} closer than the settings alone.`
  if (less < -0.005) {
    return `The settings alone come ${percentText(1 - flat.absoluteMs / learned.absoluteMs)} closer. Takes of another kind of work, or breaks that were not marked as pauses, may have taught what does not hold.`
  }
  return 'So far takes and settings come equally close.'
}
