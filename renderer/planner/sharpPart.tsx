import { memo } from 'react'
import { FieldLine } from '../parts/form.tsx'
import { numberText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { DepthBar } from './depthBar.tsx'
import type { ExposureView } from './exposureView.ts'
import { mmText, stopText } from './figures.ts'
import type { PictureView } from './pictureView.ts'
import css from './planner.module.css'
import { Choosing, Typing, useText } from './plannerFields.tsx'
import { textOf } from './prefill.ts'
import { useRigs } from './rigChoice.tsx'
import type { SharpView } from './sharpView.ts'

const holds = [
  { value: 'ring', label: 'by the lens’s own ring' },
  { value: 'held', label: 'held on the unlatched lens' },
  { value: 'wide open', label: 'wide open, never closed' },
  { value: 'each frame', label: 'closed anew for each frame' },
] as const

/** What f-number holds the sweep, where to focus, what another setting changes, and what the aperture does. */
export const SharpPart = memo(function SharpPart(props: {
  readonly sharp: SharpView
  readonly picture: PictureView
  readonly exposure: ExposureView
}) {
  const { sharp, picture, exposure } = props
  return (
    <Part title="Sharpness and exposure">
      <FieldLine>
        <Typing name="fNumber" label="F-number set" />
        <LensLimit name="widest" label="Lens opens to f/" />
        <LensLimit name="smallest" label="Lens closes to f/" />
        <Choosing name="held" label="The aperture is" wide options={holds} />
      </FieldLine>
      <DepthBar sharp={sharp} outline={picture.outline} />
      <p role="status">{atThisStop(sharp, picture)}</p>
      <p>{sharp.verdict}</p>
      <p>{sharp.focus}</p>
      {picture.rows.length > 1 ? (
        <p className={css.note}>
          {`To hold its sweep ${sharp.holdsFromFNumbers.map((fNumber, index) => `row ${index + 1} needs ${stopText(fNumber)}`).join(', ')}; the figures above are row ${picture.row}’s.`}
        </p>
      ) : null}
      {sharp.warning ? (
        <div className={css.warning}>
          <p>{sharp.warning.reason}</p>
          <ul>
            {sharp.warning.helps.map((help) => (
              <li key={help}>{help}</li>
            ))}
          </ul>
          <p className={css.note}>{`${sharp.warning.caution.sentence} ${sharp.warning.caution.pointer}`}</p>
        </div>
      ) : null}
      <h3>From one exposure to another</h3>
      <FieldLine>
        <Typing name="shutter" label="Shutter" unit="s" />
        <Typing name="iso" label="ISO" />
        <Typing name="toFNumber" label="To f-number" />
        <Typing name="toShutter" label="To shutter" unit="s" />
        <Typing name="toIso" label="To ISO" />
      </FieldLine>
      <p role="status">{exposure.sentence}</p>
      <p className={css.note}>
        {`By f-number and shutter alone, whatever the ISO: EV ${exposure.evs.map((ev) => numberText(ev, 1)).join(' and EV ')}.`}
      </p>
    </Part>
  )
})

/** What the lens can do: as the chosen rig says it, and asked only where the rig does not say it or another is typed. */
function LensLimit({ name, label }: { readonly name: 'widest' | 'smallest'; readonly label: string }) {
  const rig = useRigs().chosen?.current
  const known = (name === 'widest' ? rig?.widestCenti : rig?.smallestCenti) ?? null
  const isOfRig = useText(name) === (known === null ? undefined : textOf(known / 100))
  if (!isOfRig) return <Typing name={name} label={label} />
  return <p className={css.ofRig}>{`${label}${textOf((known ?? 0) / 100)}, as the rig says`}</p>
}

function atThisStop({ fNumber, depth, closeUpMm, holdsSweep }: SharpView, { outline }: PictureView): string {
  const deep = `${mmText(depth.totalMm)} deep (${mmText(closeUpMm)} by the close-up formula)`
  const range = `At ${stopText(fNumber)} it is sharp from ${mmText(depth.nearMm)} to ${mmText(depth.farMm)}, ${deep}`
  const sweep = `the sweep, ${mmText(outline.nearMm)} to ${mmText(outline.farMm)}`
  return holdsSweep ? `${range}: all of ${sweep}.` : `${range}: not all of ${sweep}.`
}
