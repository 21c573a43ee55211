import { Button } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { countText, percentText, secondsText } from '../parts/format.ts'
import { MedianBar } from '../parts/medianBar.tsx'
import { Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { useStudio } from '../shell/studio.ts'
import css from './figures.module.css'
import { fromText, stepText } from './figureWords.ts'
import type { Learned } from './screen.tsx'
import { useAsSetting } from './useSetting.ts'

interface Row {
  readonly key: number
  readonly name: string
  readonly stepMs: number
  readonly from: string
  readonly weight: number
}

/** Settings are typed to hundredths of a second. */
const settingPlaceMs = 10
/** Four in five lie under this many deviations over the median. */
const z80 = 0.8416212335729143

/** The time from frame to frame: of the studio, and of each rig. */
export function StepPart({ learned }: { readonly learned: Learned }) {
  const { today } = useStudio()
  const use = useAsSetting()
  const { step, rigs } = learned
  const takes = ['take', 'takes'] as const
  const rows: readonly Row[] = [
    { ...step, key: 0, name: 'All rigs', from: fromText(step.takes, step.lastDay, today, takes) },
    ...rigs.map((rig) => ({
      ...rig,
      key: rig.rigId,
      from: fromText(rig.takes, rig.lastDay, today, takes),
    })),
  ]
  const highOf = (ms: number) => ms * Math.exp(z80 * (learned.spreadPpm / 1e6))
  const scaleTo = Math.max(learned.settingStepMs, ...rows.map(({ stepMs }) => highOf(stepMs))) * 1.05
  const setting = Math.round(step.stepMs / settingPlaceMs) * settingPlaceMs
  const columns: readonly Column<Row>[] = [
    { key: 'name', head: 'Rig', cell: ({ name }) => name, tight: true },
    { key: 'step', head: 'A step', figure: true, cell: ({ stepMs }) => stepText(stepMs) },
    { key: 'high', head: 'Four in five under', figure: true, cell: ({ stepMs }) => stepText(highOf(stepMs)) },
    {
      key: 'bar',
      head: 'Median to 80 %',
      isHeadSpoken: true,
      cell: ({ name, stepMs }) => (
        <MedianBar
          label={`A step, ${name}`}
          median={stepMs}
          high={highOf(stepMs)}
          scaleTo={scaleTo}
          say={stepText}
        />
      ),
    },
    { key: 'weight', head: 'Of it from takes', figure: true, cell: ({ weight }) => percentText(weight) },
    { key: 'from', head: 'Where it comes from', cell: ({ from }) => from },
  ]
  return (
    <Part
      title="From frame to frame"
      acts={
        setting === learned.settingStepMs ? undefined : (
          <Button busy={use.busy} onClick={() => use.run({ stepMs: setting })}>
            {`Use ${stepText(setting)} as the studio’s setting`}
          </Button>
        )
      }
    >
      <p className={css.note}>{stepSentence(learned)}</p>
      {use.refusal ? <FormRefusal sentence={use.refusal.sentence} /> : null}
      <Table
        caption="The step of each rig, learned from takes"
        columns={columns}
        rows={rows}
        keyOf={({ key }) => key}
        empty={null}
      />
    </Part>
  )
}

function stepSentence({ settingStepMs, settingSpreadPpm, spreadPpm, stops, teachingTakes }: Learned): string {
  const parts = [
    `Set: ${stepText(settingStepMs)}, with a spread of ${percentText(settingSpreadPpm / 1e6)} from take to take; seen: a spread of ${percentText(spreadPpm / 1e6)}.`,
    'Short stops are part of a step, breaks are not. A rig with few takes leans on the studio’s step, and the studio’s on its setting.',
    stops &&
      `In ${countText(stops.takes, 'take')} timed frame by frame, hands took ${secondsText(stops.medianStepMs / 1000)} from frame to frame, and stops added ${stops.share < 0.005 ? 'hardly anything' : percentText(stops.share)}.`,
    `The newest ${teachingTakes.toLocaleString('en-GB')} takes count, the last 200 the most.`,
  ]
  return parts.filter(Boolean).join(' ')
}
