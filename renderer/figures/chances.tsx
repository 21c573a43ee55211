import { Button } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { countText, numberText, percentText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import type { Act } from '../shell/api.ts'
import css from './figures.module.css'
import { RangeBar } from './rangeBar.tsx'
import type { Learned } from './screen.tsx'
import { useAsSetting } from './useSetting.ts'

interface Row {
  readonly key: 'restartPpm' | 'reshootPpm'
  readonly what: string
  readonly seen: Learned['restart']
}

/** The two chances of a spin to take longer: a take begun again, and a spin shot again after its set is gone. */
export function ChancesPart({ learned }: { readonly learned: Learned }) {
  const use = useAsSetting()
  const rows: readonly Row[] = [
    { key: 'restartPpm', what: 'Take begun again', seen: learned.restart },
    { key: 'reshootPpm', what: 'Shot again later', seen: learned.reshoot },
  ]
  return (
    <Part title="What goes wrong">
      <p className={css.note}>
        Estimates count the chance that is used: the setting, worth 20 spins, and what was seen. The range is
        where the true share lies 19 times in 20 by what was seen alone (Wilson’s interval). A spin turned
        again by the client’s own wish is an order of its own and does not count.
      </p>
      {use.refusal ? <FormRefusal sentence={use.refusal.sentence} /> : null}
      <Table
        caption="The chances of a restart and of a reshoot"
        columns={columnsOf(use)}
        rows={rows}
        keyOf={({ key }) => key}
        empty={null}
      />
    </Part>
  )
}

/** Settings are taken over to a tenth of a per cent. */
function settingPpm(chance: number): number {
  return Math.round(chance * 1000) * 1000
}

function columnsOf(use: Act<Partial<Record<Row['key'], number>>>): readonly Column<Row>[] {
  return [
    { key: 'what', head: 'Spins', tight: true, cell: ({ what }) => what },
    { key: 'set', head: 'Set', figure: true, cell: ({ seen }) => percentText(seen.setting, 1) },
    {
      key: 'seen',
      head: 'Seen',
      figure: true,
      cell: ({ seen }) => `${numberText(seen.hits)} of ${countText(seen.spins, 'spin')}`,
    },
    {
      key: 'range',
      head: 'Probably between',
      figure: true,
      cell: ({ seen: { range } }) => `${percentText(range.low, 1)} and ${percentText(range.high, 1)}`,
    },
    {
      key: 'bar',
      head: 'Range, with the chance that is used',
      isHeadSpoken: true,
      cell: ({ what, seen }) => <ChanceBar label={what} seen={seen} />,
    },
    { key: 'used', head: 'Used', figure: true, cell: ({ seen }) => percentText(seen.chance, 1) },
    {
      key: 'act',
      head: 'Use it',
      isHeadSpoken: true,
      tight: true,
      cell: ({ key, seen }) =>
        seen.spins === 0 || settingPpm(seen.chance) === Math.round(seen.setting * 1e6) ? null : (
          <Button kind="quiet" busy={use.busy} onClick={() => use.run({ [key]: settingPpm(seen.chance) })}>
            Use as the studio’s setting
          </Button>
        ),
    },
  ]
}

/** On a line from 0 to a quarter, or to its own end; the mark is the chance that is used. */
function ChanceBar({ label, seen }: { readonly label: string; readonly seen: Learned['restart'] }) {
  const { low, high } = seen.range
  return (
    <RangeBar
      label={`${label}: between ${percentText(low, 1)} and ${percentText(high, 1)}, used ${percentText(seen.chance, 1)}, set ${percentText(seen.setting, 1)}`}
      range={seen.range}
      mark={seen.chance}
      scale={Math.max(0.25, high, seen.chance)}
    />
  )
}
