import { type PointerEvent, useRef, useState } from 'react'
import { framePicturePath } from '../../main/trade/check/checkStatus.ts'
import type { PictureArea } from '../../main/trade/check/smallFrame.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { Form } from '../parts/form.tsx'
import { numberText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { bandFromDrag, movedBand, type PicturePoint, resizedBand } from './bandGeometry.ts'
import css from './edgeBand.module.css'

/** The mark on the platter's edge: whether its band is drawn, and the way to draw it. */
export function EdgeBandPart(props: {
  readonly takeId: number
  readonly frames: readonly number[]
  readonly hasPictures: boolean
}) {
  const { takeId } = props
  const [isOpen, setOpen] = useState(false)
  const asked = useAsk(['edgeBands', takeId], () => api.edgeBands.ofTake.query({ takeId }))
  const away = useAct(() => api.edgeBands.takeAway.mutate({ takeId }))
  return (
    <Part title="Mark on the platter’s edge">
      <Asked of={asked}>
        {({ band, rigName, row }) => (
          <>
            <p>
              {band
                ? `Steps and closing are told by the mark in the band drawn for ${rigName}, row ${row}, once it is seen in enough frames. The band holds for every take from there.`
                : 'A strip of tape on the platter’s edge tells the true angle of every frame, also of a bottle or a can that looks alike all round. Draw where the near edge is seen.'}
            </p>
            <ButtonRow>
              <Button aria-disabled={!props.hasPictures} onClick={() => props.hasPictures && setOpen(true)}>
                {band ? 'Draw the band anew' : 'Draw the band'}
              </Button>
              {band ? (
                <Button busy={away.busy} onClick={() => away.run()}>
                  Take the band away
                </Button>
              ) : null}
            </ButtonRow>
            {props.hasPictures ? null : (
              <p className={css.quiet}>It is drawn on a frame’s picture, once the pictures can be had.</p>
            )}
            {isOpen ? <DrawBand {...props} before={band} onClose={() => setOpen(false)} /> : null}
          </>
        )}
      </Asked>
    </Part>
  )
}

/** Along the lower part of the picture, where a near edge is seen from most heights of a camera. */
const firstBand: PictureArea = { left: 0.05, top: 0.75, right: 0.95, bottom: 0.85 }

function DrawBand(props: {
  readonly takeId: number
  readonly frames: readonly number[]
  readonly before: PictureArea | null
  readonly onClose: () => void
}) {
  const { takeId, frames } = props
  const [band, setBand] = useState(props.before ?? firstBand)
  const [frame, setFrame] = useState<number | null>(frames[0] ?? 1)
  const keep = useAct(() => api.edgeBands.draw.mutate({ takeId, band }), props.onClose)
  const shown = frame !== null && frames.includes(frame) ? frame : (frames[0] ?? 1)
  return (
    <Dialog title="Band of the mark on the platter’s edge" wide onClose={props.onClose}>
      <Form label="The band" refusal={keep.refusal} onSubmit={() => keep.run()}>
        <p>
          Draw along the near edge of the platter, as far as it is seen to the left and right, and as high as
          the mark is. Nothing else that moves should lie in it.
        </p>
        <BandOnPicture
          address={framePicturePath(takeId, shown)}
          label={`Frame ${numberText(shown)} with the band`}
          band={band}
          onChange={setBand}
        />
        <div className={css.figures}>
          <NumberField label="Frame" value={frame} onChange={setFrame} />
          <SideFields band={band} onChange={setBand} />
        </div>
        <ButtonRow>
          <Button kind="main" type="submit" busy={keep.busy}>
            Keep the band
          </Button>
          <Button onClick={props.onClose}>Leave it as it was</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

const sides = [
  ['left', 'Left'],
  ['top', 'Upper'],
  ['right', 'Right'],
  ['bottom', 'Lower'],
] as const

/** The four sides as parts of the picture; a field that is empty leaves its side where it was. */
function SideFields(props: { readonly band: PictureArea; readonly onChange: (band: PictureArea) => void }) {
  const { band, onChange } = props
  return sides.map(([side, label]) => (
    <NumberField
      key={side}
      name={side}
      label={`${label} side`}
      unit="%"
      places={1}
      value={Math.round(band[side] * 1000)}
      onChange={(value) => value !== null && onChange({ ...band, [side]: value / 1000 })}
    />
  ))
}

/** A picture over which the band is drawn with the pointer, and moved by the arrow keys; with Shift its lower right corner. */
function BandOnPicture(props: {
  readonly address: string
  readonly label: string
  readonly band: PictureArea
  readonly onChange: (band: PictureArea) => void
}) {
  const { band, onChange } = props
  const from = useRef<PicturePoint>(undefined)
  const draw = (event: PointerEvent<HTMLDivElement>) => {
    if (!from.current) return
    const drawn = bandFromDrag(from.current, pointOf(event))
    if (drawn) onChange(drawn)
  }
  return (
    <div
      className={css.picture}
      onPointerDown={(event) => {
        event.preventDefault()
        event.currentTarget.setPointerCapture(event.pointerId)
        from.current = pointOf(event)
      }}
      onPointerMove={draw}
      onPointerUp={(event) => {
        draw(event)
        from.current = undefined
      }}
    >
      <img src={props.address} alt={props.label} draggable={false} />
      <button
        type="button"
        className={css.band}
        style={{
          left: percent(Math.min(1, band.left)),
          top: percent(Math.min(1, band.top)),
          // While figures are typed the sides may lie the wrong way round, or outside.
          width: percent(Math.max(0, Math.min(1, band.right) - band.left)),
          height: percent(Math.max(0, Math.min(1, band.bottom) - band.top)),
        }}
        aria-label={`Band from ${sides.map(([side]) => `${side} ${numberText(Math.round(band[side] * 1000) / 10)} %`).join(', ')}. Arrow keys move it; with Shift they make it larger and smaller.`}
        onKeyDown={(event) => {
          const by = arrows[event.key]
          if (!by) return
          event.preventDefault()
          onChange(event.shiftKey ? resizedBand(band, by) : movedBand(band, by))
        }}
      />
    </div>
  )
}

/** An arrow key moves by half a percent of the picture: some three pixels of the frame that is read. */
const keyPart = 0.005
const arrows: Readonly<Record<string, PicturePoint>> = {
  ArrowLeft: { x: -keyPart, y: 0 },
  ArrowRight: { x: keyPart, y: 0 },
  ArrowUp: { x: 0, y: -keyPart },
  ArrowDown: { x: 0, y: keyPart },
}

function pointOf({ currentTarget, clientX, clientY }: PointerEvent<HTMLDivElement>): PicturePoint {
  const { left, top, width, height } = currentTarget.getBoundingClientRect()
  return { x: (clientX - left) / width, y: (clientY - top) / height }
}

function percent(part: number): string {
  return `${100 * part}%`
}
