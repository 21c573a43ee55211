import { useEffect, useReducer, useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { frameOnLoop } from '../../main/trade/check/spinning.ts'
import { numberText } from '../parts/format.ts'
import type { CheckOfTake } from './checkOfTake.ts'
import type { FramePictures } from './framePictures.ts'
import { sheetPictures } from './sheetPictures.ts'
import css from './spin.module.css'
import { SpinView } from './spinView.tsx'

type ContactStrip = NonNullable<Answers['takeCheck']['report']['strip']>

/** What a take looked like, by the small frames that the studio keeps of it: turned by hand, and all on one sheet. */
export function ContactSpin(props: {
  readonly strip: ContactStrip
  readonly label: string
  readonly direction: CheckOfTake['playing']['direction']
}) {
  const { strip, label, direction } = props
  const [at, setAt] = useState(1)
  const [pictures, setPictures] = useState<FramePictures>()
  const [, redraw] = useReducer((count: number) => count + 1, 0)
  const { sha256, columns, cellWidthPx, cellHeightPx } = strip
  const count = strip.frames.length
  useEffect(() => {
    const opened = sheetPictures(
      { address: `/files/${sha256}`, count, columns, cellWidthPx, cellHeightPx },
      redraw,
    )
    setPictures(opened)
    return () => opened.close()
  }, [sha256, count, columns, cellWidthPx, cellHeightPx])
  const loop = { inFrame: 1, outFrame: Math.max(1, count) }
  const told = `Frame ${numberText(strip.frames[at - 1] ?? 1)} of the take`
  const step = (steps: number) => setAt(frameOnLoop(loop, at, steps))
  return (
    <div className={css.viewer}>
      <div className={css.stage}>
        <SpinView
          label={`${label}, its small frames, to be turned`}
          {...{ pictures, loop, direction, told }}
          frame={at}
          over={undefined}
          onTurn={setAt}
          onStep={step}
          onSpace={() => step(1)}
        />
        <p className={css.number}>{told}</p>
      </div>
      <img
        className={css.sheet}
        src={`/files/${sha256}`}
        width={columns * cellWidthPx}
        height={Math.ceil(count / columns) * cellHeightPx}
        alt={`${label}: ${count} small frames on one sheet`}
      />
    </div>
  )
}
