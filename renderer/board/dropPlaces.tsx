import { useState } from 'react'
import css from './board.module.css'

export type DropPlace = 'high' | 'normal' | 'low' | 'hold' | 'release'

/** Where a job that is being dragged can be let go: its priority, or a hold. The keys p and h do the same. */
export function DropPlaces(props: { readonly isHeld: boolean; readonly onDrop: (place: DropPlace) => void }) {
  const places: readonly (readonly [DropPlace, string])[] = [
    ['high', 'Ahead of others'],
    ['normal', 'As it comes'],
    ['low', 'Last'],
    props.isHeld ? ['release', 'Release from hold'] : ['hold', 'Hold'],
  ]
  const [over, setOver] = useState<DropPlace>()
  return (
    <div className={css.drops} aria-hidden="true">
      {places.map(([place, word]) => (
        // biome-ignore lint/a11y/noStaticElementInteractions: a place for the pointer alone; keys do the same elsewhere
        <div
          key={place}
          className={over === place ? `${css.drop} ${css.over}` : css.drop}
          data-drop={place}
          onDragOver={(event) => {
            event.preventDefault()
            setOver(place)
          }}
          onDragLeave={() => setOver(undefined)}
          onDrop={(event) => {
            event.preventDefault()
            props.onDrop(place)
          }}
        >
          {word}
        </div>
      ))}
    </div>
  )
}
