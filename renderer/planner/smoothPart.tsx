import { memo, useState } from 'react'
import { frameRates } from '../../main/trade/turn/frameRate.ts'
import { Button } from '../parts/button.tsx'
import { FieldLine } from '../parts/form.tsx'
import { numberText } from '../parts/format.ts'
import { Fact, Part, Sheet } from '../parts/page.tsx'
import { degreesText, pxText } from './figures.ts'
import { rateOf, rateWords } from './loopView.ts'
import type { Plan } from './plan.ts'
import css from './planner.module.css'
import { Typing, useText } from './plannerFields.tsx'
import { TurningSolid } from './turningSolid.tsx'
import { areRowsAlike, tenthUm } from './turnView.ts'

/** How smooth the turn will look, beside up to two others, playing at the delivered rate. */
export const SmoothPart = memo(function SmoothPart({
  smooth,
  picture,
  turn,
}: Pick<Plan, 'smooth' | 'picture' | 'turn'>) {
  const isAnticlockwise = useText('direction') === 'anticlockwise'
  const isBackwards = useText('played') === 'backwards'
  const rate = rateOf({ rate: useText('rate') })
  const [isPlaying, setPlaying] = useState(() => !wantsStillness())
  const [isTrueSize, setTrueSize] = useState(false)
  const planned = areRowsAlike(turn) ? ', as planned' : `, row ${turn.row} as planned`
  const perSecond = frameRates[rate].numerator / frameRates[rate].denominator
  return (
    <Part
      title="Smoothness on screen"
      acts={
        <>
          <Button kind="quiet" aria-pressed={isTrueSize} onClick={() => setTrueSize(!isTrueSize)}>
            True size
          </Button>
          <Button aria-pressed={isPlaying} onClick={() => setPlaying(!isPlaying)}>
            {isPlaying ? 'Pause the turns' : 'Play the turns'}
          </Button>
        </>
      }
    >
      <p>{smooth.limit}</p>
      <div className={css.compared}>
        {smooth.choices.map((choice) => (
          <figure key={choice.frames} className={css.choice}>
            <TurningSolid
              frames={choice.frames}
              perSecond={perSecond}
              isPlaying={isPlaying}
              isAnticlockwise={isAnticlockwise !== isBackwards}
              isTrueSize={isTrueSize}
              picture={picture}
            />
            <figcaption>
              <h3>{`${choice.frames} frames a turn${choice.frames === turn.frames ? planned : ''}`}</h3>
              <Sheet figures>
                <Fact label="Step on screen">
                  <strong>{pxText(choice.smooth.stepPx)}</strong>
                </Fact>
                <Fact label="Step">{degreesText(choice.smooth.degrees)}</Fact>
                <Fact label="Along the rim">{`${tenthUm(choice.stepUm10)} mm`}</Fact>
                <Fact label="One turn plays">{`${numberText(choice.turnSeconds)} s`}</Fact>
              </Sheet>
            </figcaption>
          </figure>
        ))}
      </div>
      <FieldLine>
        <Typing name="compareB" label="Beside it" unit="frames" />
        <Typing name="compareC" label="And a third" unit="frames" />
      </FieldLine>
      <p className={css.note}>
        {`Measured at the product’s outermost point as it passes in front, in the delivered picture of ${picture.widthPx} × ${picture.heightPx} px. The drawn solid fills the product’s swept width and height and turns at the true step at ${rateWords[rate]} frames a second; ${
          isTrueSize
            ? 'you see the middle of it, a delivered pixel on a pixel of this screen.'
            : 'it is drawn smaller than delivered, so steps look finer here: press True size to judge them.'
        }`}
      </p>
    </Part>
  )
})

function wantsStillness(): boolean {
  return window.matchMedia('(prefers-reduced-motion: reduce)').matches
}
