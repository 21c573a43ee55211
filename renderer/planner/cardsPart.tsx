import { memo } from 'react'
import { readerWays } from '../../main/trade/cards.ts'
import { FieldLine } from '../parts/form.tsx'
import { bytesText, countText, durationText, numberText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import type { CardsView } from './cardsView.ts'
import css from './planner.module.css'
import { Typing } from './plannerFields.tsx'

const readerText = Object.entries(readerWays)
  .map(([way, bytesPerSecond]) => `${way} ${numberText(bytesPerSecond / 1e6, 0)} MB/s`)
  .join(', ')

/** Room on cards and the time of copying, for everything the plan shoots. */
export const CardsPart = memo(function CardsPart({ cards }: { readonly cards: CardsView }) {
  const { space } = cards
  return (
    <Part title="Cards and copying">
      <FieldLine>
        <Typing name="bits" label="Bits to the pixel" unit="bits" />
        <Typing name="compression" label="File of uncompressed" unit="%" />
        <Typing name="cardGb" label="A card holds" unit="GB" />
        <Typing name="cardSpeed" label="Card reads at" unit="MB/s" />
        <Typing name="readerSpeed" label="Reader carries" unit="MB/s" />
      </FieldLine>
      <p role="status">
        {`${numberText(cards.frames, 0)} frames of ${bytesText(cards.frameBytes)} are ${bytesText(space.totalBytes)}: ${countText(space.cards, 'card')}, ${numberText(space.framesPerCard, 0)} frames on each. Copying takes ${durationText(cards.copyMs / 60_000)}; the ${cards.slower} holds it up. To keep up with the turning a card must write ${bytesText(cards.writingBytesPerSecond)} a second.`}
      </p>
      <p className={css.note}>
        {cards.marks.length > 0
          ? `SD cards marked ${cards.marks.join(', ')} promise that. `
          : 'No mark on an SD card promises that. '}
        {`At most a reader carries, by its slot or cable: ${readerText}. `}A raw file keeps one value to the
        pixel; headers and previews come on top, so measure a frame of your own where it counts.
      </p>
    </Part>
  )
})
