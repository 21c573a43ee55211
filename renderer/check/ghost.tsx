import { useEffect, useState } from 'react'
import { Button } from '../parts/button.tsx'
import { capital, percentText } from '../parts/format.ts'
import css from './aids.module.css'

/** How long each picture stands while they change places, in ms: slower than three flashes in a second (WCAG 2.3.1). */
const blinkMs = 800

/** A picture and what it is called in a sentence: `the approved frame`. */
interface Picture {
  readonly url: string
  readonly word: string
}

/** One frame as a ghost over the newest: as strong as the slider says, one after the other, or beside it. */
export function Ghost(props: { readonly newest: Picture | undefined; readonly ghost: Picture }) {
  const { newest, ghost } = props
  const [strength, setStrength] = useState(50)
  const [isBlinking, setBlinking] = useState(false)
  const [isBeside, setBeside] = useState(false)
  const [isGhostUp, setGhostUp] = useState(false)
  useEffect(() => {
    if (!isBlinking) return
    const timer = setInterval(() => setGhostUp((up) => !up), blinkMs)
    return () => clearInterval(timer)
  }, [isBlinking])
  const shown = isBlinking ? (isGhostUp ? 100 : 0) : newest ? strength : 100
  return (
    <div className={css.ghost}>
      <div className={isBeside ? css.beside : css.stack}>
        {newest ? <img src={newest.url} alt={capital(newest.word)} /> : null}
        <img src={ghost.url} alt={capital(ghost.word)} style={{ opacity: isBeside ? 1 : shown / 100 }} />
      </div>
      <div className={css.ghostActs}>
        <label className={css.slider}>
          <span>{`${capital(ghost.word)}, ${percentText(shown / 100)} of it`}</span>
          <input
            type="range"
            min={0}
            max={100}
            step={5}
            value={strength}
            disabled={isBlinking || isBeside || !newest}
            onChange={(event) => setStrength(Number(event.target.value))}
          />
        </label>
        <Button
          large
          aria-pressed={isBlinking}
          disabled={!newest || isBeside}
          onClick={() => setBlinking(!isBlinking)}
        >
          Blink
        </Button>
        <Button large aria-pressed={isBeside} disabled={!newest} onClick={() => setBeside(!isBeside)}>
          Side by side
        </Button>
      </div>
      {isBlinking ? (
        <p className={css.quiet} aria-hidden="true">
          {isGhostUp ? ghost.word : newest?.word}
        </p>
      ) : null}
    </div>
  )
}
