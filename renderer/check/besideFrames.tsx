import { useEffect, useState } from 'react'
import type { Finding } from '../../main/trade/check/finding.ts'
import type { FrameFigures, TakeReport } from '../../main/trade/check/report.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { numberText } from '../parts/format.ts'
import type { Answered } from './answered.ts'
import css from './beside.module.css'
import { withEv } from './checkStrip.tsx'
import { OneFinding } from './findings.tsx'
import type { AddressOf } from './framePictures.ts'
import { neighboursOf } from './stripGeometry.ts'

/** A frame between the one before and the one after it, large enough to see what jumped; left and right go on. */
export function BesideFrames(props: {
  readonly takeId: number
  readonly report: TakeReport
  readonly answers: readonly Answered[]
  readonly frame: number
  /** What was found here; without it, whatever was found at the frame that stands in the middle. */
  readonly findings: readonly Finding[]
  readonly addressOf: AddressOf
  readonly hasPictures: boolean
  readonly onClose: () => void
}) {
  const { report } = props
  const [frame, setFrame] = useState(props.frame)
  const { before, after } = neighboursOf(report, frame)
  const go = (to: number | undefined) => to !== undefined && setFrame(to)
  const keys = frame === props.frame ? props.findings.map(({ key }) => key) : []
  const here = report.findings.filter(({ key, frames }) => keys.includes(key) || frames.includes(frame))
  return (
    <Dialog
      title={`Frame ${numberText(frame)} beside its neighbours`}
      wide="as pictures need"
      onClose={props.onClose}
    >
      {/* biome-ignore lint/a11y/noStaticElementInteractions: the arrow keys do what the buttons below do */}
      <div
        className={css.beside}
        onKeyDown={(event) => {
          if (event.key !== 'ArrowLeft' && event.key !== 'ArrowRight') return
          event.preventDefault()
          go(event.key === 'ArrowLeft' ? before : after)
        }}
      >
        <div className={css.three}>
          {[before, frame, after].map((one, index) => (
            <OneFrame
              key={`${index} ${one}`}
              frame={one}
              isHere={index === 1}
              figures={report.frames.find((figures) => figures.frame === one)}
              addressOf={props.hasPictures ? props.addressOf : undefined}
            />
          ))}
        </div>
        <ButtonRow>
          <Button aria-disabled={before === undefined} onClick={() => go(before)}>
            Frame before
          </Button>
          <Button aria-disabled={after === undefined} onClick={() => go(after)}>
            Frame after
          </Button>
        </ButtonRow>
        {here.map((finding) => (
          <OneFinding key={finding.key} takeId={props.takeId} finding={finding} answers={props.answers} />
        ))}
      </div>
    </Dialog>
  )
}

function OneFrame(props: {
  readonly frame: number | undefined
  readonly isHere: boolean
  readonly figures: FrameFigures | undefined
  /** Undefined while no pictures can be had. */
  readonly addressOf: AddressOf | undefined
}) {
  const { frame, figures, addressOf } = props
  const address = frame === undefined ? undefined : addressOf?.(frame)
  const largeAddress = frame === undefined ? undefined : addressOf?.(frame, 'large')
  const hasLarge = useFetched(largeAddress)
  return (
    <figure className={props.isHere ? `${css.one} ${css.here}` : css.one}>
      <div className={css.picture}>
        {address && figures && figures.problem === null ? (
          <img src={hasLarge ? largeAddress : address} alt={`Frame ${frame}`} width={640} height={427} />
        ) : (
          <p>{figures?.problem ?? (address ? 'No picture was read of this frame.' : '')}</p>
        )}
      </div>
      <figcaption>
        {address || figures ? (
          <>
            <span className={css.number}>{frame === undefined ? '' : numberText(frame)}</span>
            <span className={css.file}>{figures?.file}</span>
            <span>{figures ? figuresText(figures) : null}</span>
          </>
        ) : null}
      </figcaption>
    </figure>
  )
}

/** True once the picture at an address has come, so that the small one stands until then. */
function useFetched(address: string | undefined): boolean {
  const [fetched, setFetched] = useState<string>()
  useEffect(() => {
    if (address === undefined) return
    const image = new Image()
    image.onload = () => setFetched(address)
    image.src = address
    return () => {
      image.onload = null
    }
  }, [address])
  return address !== undefined && fetched === address
}

function figuresText({ luminanceEv, changeEv, stepRatio, match }: FrameFigures): string {
  return [
    luminanceEv === null ? undefined : `light ${withEv(luminanceEv)}`,
    changeEv === null ? undefined : `change ${withEv(changeEv)}`,
    stepRatio === null ? undefined : `difference ${numberText(stepRatio)}\u00a0steps`,
    match === null ? undefined : `match ${numberText(match)}`,
  ]
    .filter(Boolean)
    .join(', ')
}
