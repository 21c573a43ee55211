import { memo } from 'react'
import { timecode } from '../../main/trade/turn/timecode.ts'
import { FieldLine } from '../parts/form.tsx'
import { countText, numberText, withUnit } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { type LoopView, rateOf, rateWords } from './loopView.ts'
import css from './planner.module.css'
import { Choosing, Typing, useText } from './plannerFields.tsx'
import { ofRow, type TurnView } from './turnView.ts'

/** Two and a half seconds or so, to show how a timecode is written. */
const exampleFrame = 62

type RateRow = LoopView['rates'][number]

const columns: readonly Column<RateRow>[] = [
  { key: 'rate', head: 'Frames a second', cell: ({ name }) => rateWords[name] },
  { key: 'seconds', head: 'One turn', figure: true, cell: ({ seconds }) => withUnit(seconds, 's', 3) },
  { key: 'timecode', head: 'Timecode', cell: ({ timecode }) => <code>{timecode}</code> },
  {
    key: 'repeats',
    head: 'For the clip',
    figure: true,
    cell: ({ repeats }) => countText(repeats.repeats, 'turn'),
  },
  { key: 'clip', head: 'Clip', cell: ({ repeats }) => <code>{repeats.timecode}</code> },
  {
    key: 'over',
    head: 'Past the wish',
    figure: true,
    cell: ({ repeats }) => countText(repeats.framesOver, 'frame'),
  },
]

/** How long the loop plays at every rate, how often it repeats in a clip, and how it is cut. */
export const LoopPart = memo(function LoopPart({
  loop,
  turn,
}: {
  readonly loop: LoopView
  readonly turn: TurnView
}) {
  const text = useText('rate')
  const rate = loop.rates.find(({ name }) => name === rateOf({ rate: text }))
  return (
    <Part title="The loop">
      <FieldLine>
        <Choosing
          name="rate"
          label="Delivered frames a second"
          wide
          options={loop.rates.map(({ name }) => ({ value: name, label: rateWords[name] }))}
        />
        <Typing name="clip" label="Wanted clip" unit="s" />
        <Typing name="start" label="Trim at the start" unit="frames" />
        <Choosing
          name="direction"
          label="Turns, seen from above"
          options={[
            { value: 'clockwise', label: 'clockwise' },
            { value: 'anticlockwise', label: 'anticlockwise' },
          ]}
        />
        <Choosing
          name="played"
          label="The loop plays"
          options={[
            { value: 'as shot', label: 'as shot' },
            { value: 'backwards', label: 'backwards' },
          ]}
        />
      </FieldLine>
      <p>
        {`The loop${ofRow(turn)} plays frame ${loop.runs.map(({ first, last }) => `${first} to ${last}`).join(', then ')}${loop.isReversed ? ', backwards' : ''}.`}
        {rate
          ? ` One turn of ${turn.frames} frames lasts ${numberText(rate.seconds, 3)} s; ${countText(rate.repeats.repeats, 'turn')} make a clip of ${rate.repeats.timecode}.`
          : ''}
      </p>
      <p className={css.note}>
        {`Clip and trim may also be typed as a timecode of the delivered rate, such as ${timecode(exampleFrame, rateOf({ rate: text }))}.`}
      </p>
      <div className={css.wideTable}>
        <Table
          caption="The loop at every frame rate"
          columns={columns}
          rows={loop.rates}
          keyOf={({ name }) => name}
          empty={null}
        />
      </div>
    </Part>
  )
})
