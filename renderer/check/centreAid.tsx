import { useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { pointerDeg, ringMark } from '../../main/trade/check/centre/nudge.ts'
import { quickFrames, quickMarks } from '../../main/trade/check/centre/quickCentre.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine, FormRefusal } from '../parts/form.tsx'
import { countText, numberText, withUnit } from '../parts/format.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import type { AidProps, AidStand } from './aidPage.tsx'
import css from './aids.module.css'
import { CentreChoiceField, useCentreChoice } from './centreChoice.tsx'
import { CentreRing } from './centreRing.tsx'
import { CentreTold, nudgeOnRing } from './centreTold.tsx'
import { PointerField, usePointer } from './pointerField.tsx'
import { ByHand } from './twoExtremes.tsx'
import { WatchedFolder } from './watchedFolder.tsx'

const counts = ['4', '5', '6', '7', '8'] as const

/** Centring before the take: from a few quick frames, or from two readings by hand. */
export function CentreAid(props: AidProps & { readonly about: AidStand }) {
  const [way, setWay] = useState<'frames' | 'hand'>('frames')
  return (
    <>
      <div className={css.ways}>
        <Button large aria-pressed={way === 'frames'} onClick={() => setWay('frames')}>
          By quick frames
        </Button>
        <Button large aria-pressed={way === 'hand'} onClick={() => setWay('hand')}>
          By two readings
        </Button>
      </div>
      {way === 'frames' ? <ByFrames {...props} /> : <ByHand of={props.of} about={props.about} />}
    </>
  )
}

function ByFrames(props: AidProps & { readonly about: AidStand }) {
  const { about, folder } = props
  const [choice, setChoice] = useState(about.centre.choice)
  const keep = useCentreChoice(props.of.shootId)
  const [count, setCount] = useState<(typeof counts)[number]>(String(quickFrames[choice]) as '4' | '7')
  const pointer = usePointer(props.of, about)
  // A lens and a distance tell it no finer than a whole millimetre.
  const ofRigUm = about.longSideMm === null ? null : Math.round(about.longSideMm) * 1000
  const [longSideUm, setLongSideUm] = useState(ofRigUm)
  const [begun, setBegun] = useState<{ readonly after: string | null }>()
  const marks = quickMarks(about.framesPerTurn, Math.min(Number(count), about.framesPerTurn))
  const { benchId: _, ...stand } = props.of
  const asked = {
    ...stand,
    folder: folder ?? '',
    after: begun?.after ?? null,
    count: marks.length,
    longSideMm: longSideUm === null ? null : longSideUm / 1000,
    choice,
    pointerBearingDeg: pointerDeg[pointer.side],
  }
  const centre = useAsk(['checkAids', 'centre', asked], () => api.checkAids.centre.query(asked), {
    when: folder !== undefined && begun !== undefined,
    againWhile: () => true,
  })
  const begin = useAct(
    (back: number) => api.checkAids.before.query({ folder: folder ?? '', back }),
    ({ after }) => {
      // Begun with the place that was shown, that is what was said.
      pointer.say(pointer.side)
      setBegun({ after })
    },
  )
  const found = begun ? centre.data : undefined
  return (
    <div className={css.two}>
      <CentreRing
        size={420}
        framesPerTurn={about.framesPerTurn}
        tape={tapeOf(about)}
        shotAt={marks.map(ringMark)}
        nudge={found?.centre?.state === 'found' ? nudgeOnRing(found.centre) : undefined}
        label="The platter from above"
      />
      <div className={css.side}>
        <WatchedFolder folder={folder} offered={props.offered} onChange={props.onFolder} />
        {begin.refusal ? <FormRefusal sentence={begin.refusal.sentence} /> : null}
        {keep.refusal ? <FormRefusal sentence={keep.refusal.sentence} /> : null}
        {centre.refusal ? <FormRefusal sentence={centre.refusal.sentence} /> : null}
        {folder === undefined ? null : begun === undefined ? (
          <>
            <MarksToShoot marks={marks} about={about} arrived={0} />
            <ButtonRow>
              <Button large kind="main" busy={begin.busy} onClick={() => begin.run(0)}>
                {`The next ${count} frames are the quick ones`}
              </Button>
              <Button large busy={begin.busy} onClick={() => begin.run(Number(count))}>
                {`The newest ${count} are`}
              </Button>
            </ButtonRow>
          </>
        ) : (
          <>
            <MarksToShoot marks={marks} about={about} arrived={found?.frames.length ?? 0} />
            {found ? <Told found={found} about={about} isSpanTyped={longSideUm !== ofRigUm} /> : null}
            <ButtonRow>
              <Button large busy={begin.busy} onClick={() => begin.run(0)}>
                Nudged: shoot them again
              </Button>
            </ButtonRow>
          </>
        )}
        <details open={begun === undefined}>
          <summary>How it is reckoned</summary>
          <FieldLine>
            <SelectField
              label="Quick frames"
              value={count}
              options={counts.map((value) => ({ value, label: value }))}
              onChange={setCount}
            />
            <CentreChoiceField
              value={choice}
              usual={about.centre.usual}
              plan={about.centre.plan}
              onChange={(next) => {
                setChoice(next)
                setCount(String(quickFrames[next]) as '4' | '7')
                keep.run(next)
              }}
            />
            <PointerField value={pointer.side} onChange={pointer.say} />
            <NumberField
              label="The picture’s long side spans"
              unit="mm"
              places={3}
              value={longSideUm}
              onChange={setLongSideUm}
              hint={
                about.longSideMm === null
                  ? 'Lay a rule across the axis and read it.'
                  : 'At the axis, by the rig’s lens and distance.'
              }
            />
          </FieldLine>
        </details>
      </div>
    </div>
  )
}

/** What the frames that have come say, and which of them cannot be read. */
function Told(props: {
  readonly found: Answers['checkAids']['centre']
  readonly about: AidStand
  /** True where a person measured what the picture spans: it is told in mm then, whatever the rig lacks. */
  readonly isSpanTyped: boolean
}) {
  const { frames, scaleDoubt, centre } = props.found
  return (
    <>
      {frames.flatMap(({ trouble }) =>
        trouble === null ? [] : [<FormRefusal key={trouble} sentence={trouble} />],
      )}
      {centre === null ? null : centre.state === 'unknown' ? (
        <p role="status">{centre.sentence}</p>
      ) : (
        <CentreTold found={centre} about={props.about} by={`by ${centre.measuredWords}`} />
      )}
      {scaleDoubt === null || props.isSpanTyped ? null : <p className={css.quiet}>{scaleDoubt}</p>}
    </>
  )
}

/** At which marks the quick frames are shot; those that have come are struck off. */
function MarksToShoot(props: {
  readonly marks: readonly number[]
  readonly about: AidStand
  readonly arrived: number
}) {
  const { arrived, about } = props
  const marks = props.marks.map((mark) => ({
    mark: ringMark(mark),
    readingMm: about.marksMm?.[mark] ?? null,
  }))
  const next = marks[arrived]
  return (
    <div className={css.quick}>
      <p role="status" className={css.next}>
        {next === undefined
          ? `All ${numberText(marks.length)} are there.`
          : `${arrived === 0 ? 'Turn' : `${countText(arrived, 'frame')} of ${numberText(marks.length)}. Turn`} to mark ${numberText(next.mark)}${next.readingMm === null ? '' : `, ${withUnit(next.readingMm, 'mm', 4)}`}, and shoot.`}
      </p>
      <ol className={css.marks} aria-label="Marks of the quick frames">
        {marks.map(({ mark, readingMm }, index) => (
          <li
            key={mark}
            data-done={index < arrived || undefined}
            aria-current={index === arrived || undefined}
          >
            <span className={css.mark}>{numberText(mark)}</span>
            {readingMm === null ? null : <span className={css.quiet}>{withUnit(readingMm, 'mm', 4)}</span>}
          </li>
        ))}
      </ol>
    </div>
  )
}

export function tapeOf({ marksMm, rimMm }: AidStand) {
  return marksMm && rimMm !== null ? { readings: marksMm, rim: rimMm } : undefined
}
