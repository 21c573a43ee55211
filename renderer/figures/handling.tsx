import words from '../look/words.module.css'
import { Button } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { capital, countText, numberText, percentText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './figures.module.css'
import { fromText, minutesText } from './figureWords.ts'
import type { Learned } from './screen.tsx'
import { useAsSetting } from './useSetting.ts'

type Row = Learned['handling'][number]
type Time = Row['first']

/** Gaps from which learned times are offered as settings. */
const enoughGaps = 3
/** Settings are taken over to a tenth of a minute. */
const placeMs = 6000

/** Handling by size class and finish, learned from the gaps between takes of one day at a bench. */
export function HandlingPart({ learned }: { readonly learned: Learned }) {
  const say = useNotice()
  const isNews = learned.handling.some(({ first, following }) => isOff(first) || isOff(following))
  const use = useAct(
    () =>
      api.pace.changeHandling.mutate(
        learned.handling.map(({ sizeClass, finish, first, following }) => ({
          sizeClass,
          finish,
          firstMs: settingOf(first),
          followingMs: settingOf(following),
        })),
      ),
    () => say('Taken over as the studio’s settings. They stand under Studio, Times.'),
  )
  return (
    <Part
      title="Handling of one product"
      acts={
        isNews ? (
          <Button busy={use.busy} onClick={() => use.run()}>
            Use the learned times as the studio’s settings
          </Button>
        ) : undefined
      }
    >
      <p className={css.note}>
        {`Learned from the gaps between two spins on one rig, check frames aside; a meal, a night or a set change teaches nothing. A case without gaps of its own, in grey, goes the way of all others, so all are taken over together. They are offered as settings where ${enoughGaps} gaps or more show a time a tenth off.`}
      </p>
      {use.refusal ? <FormRefusal sentence={use.refusal.sentence} /> : null}
      <Table
        caption="Handling in minutes, set and learned, by size and finish"
        columns={columns}
        rows={learned.handling}
        keyOf={({ sizeClass, finish }) => `${sizeClass} ${finish}`}
        empty={null}
      />
      <p className={css.note}>{spreadSentence(learned)}</p>
      <Gap what="Row to row" time={learned.rowChange} settingOf={(ms) => ({ rowChangeMs: ms })} />
      <Gap
        what="After a rejected take"
        time={learned.restartPause}
        settingOf={(ms) => ({ restartPauseMs: ms })}
      />
    </Part>
  )
}

/** Whether a setting is a tenth or more off what enough gaps have shown. */
function isOff({ gaps, learnedMs, settingMs }: Time): boolean {
  return gaps >= enoughGaps && Math.abs(learnedMs - settingMs) >= settingMs / 10
}

function settingOf({ learnedMs }: Time): number {
  return Math.round(learnedMs / placeMs) * placeMs
}

const columns: readonly Column<Row>[] = [
  {
    key: 'of',
    head: 'Product',
    tight: true,
    cell: ({ sizeClass, finish }) => `${capital(sizeClass)}, ${finish}`,
  },
  ...timeColumns('First of a family', ({ first }) => first),
  ...timeColumns('Following', ({ following }) => following),
  {
    key: 'spread',
    head: 'Spread',
    figure: true,
    cell: ({ first, following, spreadPpm }) => {
      const text = percentText(spreadPpm / 1e6)
      return first.gaps + following.gaps === 0 ? <span className={words.quiet}>{text}</span> : text
    },
  },
]

/** How widely handling spreads from product to product, set and seen. */
function spreadSentence({ settingHandlingSpreadPpm, handling }: Learned): string {
  const gaps = handling.reduce((sum, { first, following }) => sum + first.gaps + following.gaps, 0)
  const set = `A spread of ${percentText(settingHandlingSpreadPpm / 1e6)} from product to product is set`
  return gaps === 0
    ? `${set}; no gap has shown another yet. It widens the 80 % time.`
    : `${set}; that of each case is learned from ${countText(gaps, 'gap')}, few of them leaning on all. It widens the 80 % time.`
}

function timeColumns(which: string, of: (row: Row) => Time): readonly Column<Row>[] {
  return [
    {
      key: `${which} set`,
      head: `${which}: set`,
      figure: true,
      cell: (row) => minutesText(of(row).settingMs),
    },
    {
      key: `${which} learned`,
      head: 'learned',
      figure: true,
      cell: (row) => {
        const { learnedMs, gaps } = of(row)
        return gaps === 0 ? (
          <span className={words.quiet}>{minutesText(learnedMs)}</span>
        ) : (
          <strong className={css.learned}>{minutesText(learnedMs)}</strong>
        )
      },
    },
    {
      key: `${which} gaps`,
      head: 'gaps',
      figure: true,
      cell: (row) => {
        const { gaps } = of(row)
        return gaps === 0 ? <span className={words.quiet}>0</span> : numberText(gaps)
      },
    },
  ]
}

/** A time between two takes of one spin, set and learned. */
function Gap(props: {
  readonly what: string
  readonly time: Time
  readonly settingOf: (ms: number) => Parameters<ReturnType<typeof useAsSetting>['run']>[0]
}) {
  const { what, time } = props
  const { today } = useStudio()
  const use = useAsSetting()
  const setting = settingOf(time)
  return (
    <div className={css.rowChange}>
      <p>
        {`${what}: set ${minutesText(time.settingMs)}, learned ${minutesText(time.learnedMs)}, ${fromText(time.gaps, time.lastDay, today, ['gap', 'gaps'])}.`}
      </p>
      {isOff(time) ? (
        <Button kind="quiet" busy={use.busy} onClick={() => use.run(props.settingOf(setting))}>
          {`Use ${minutesText(setting)} as the studio’s setting`}
        </Button>
      ) : null}
    </div>
  )
}
