import { formatDecimal } from '../../main/trade/decimal.ts'
import { frameRateName } from '../../main/trade/turn/frameRate.ts'
import words from '../look/words.module.css'
import { bytesText, countText, percentText } from '../parts/format.ts'
import { Fact, Sheet } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import css from './briefForm.module.css'
import type { BriefValue } from './briefValue.ts'

/** A brief as one reads it. */
export function BriefSheet({ brief }: { readonly brief: Omit<BriefValue, 'rows' | 'deliverables'> & Lists }) {
  const classes = useAsk(['briefs', 'finishClasses'], () => api.briefs.finishClasses.query())
  const finishing = classes.data?.find(({ id }) => id === brief.finishClassId)?.name
  return (
    <Sheet>
      <Fact label="Delivered">
        <ul>
          {brief.deliverables.map((deliverable) => (
            <li key={deliverable.name}>{deliverableText(deliverable)}</li>
          ))}
        </ul>
      </Fact>
      <Fact label="Rows">
        <ul>
          {brief.rows.map((row) => (
            <li key={row.viewAngleMdeg}>{rowText(row)}</li>
          ))}
        </ul>
      </Fact>
      <Fact label="Picture">{pictureText(brief)}</Fact>
      <Fact label="Turning">{brief.direction}, seen from above</Fact>
      {brief.startPose ? <Fact label="Start pose">{brief.startPose}</Fact> : null}
      {finishing ? <Fact label="Finishing">{finishing}</Fact> : null}
      <Fact label="File names">
        <span className={`${words.mono} ${css.pattern}`}>{brief.namePattern}</span>
      </Fact>
      <Fact label="Yes asked for">
        {brief.yesDays ? `within ${countText(brief.yesDays, 'day')}` : 'as the studio does'}
      </Fact>
      {brief.note ? <Fact label="Also">{brief.note}</Fact> : null}
    </Sheet>
  )
}

interface Lists {
  readonly rows: readonly Omit<BriefValue['rows'][number], 'key'>[]
  readonly deliverables: readonly Omit<BriefValue['deliverables'][number], 'key'>[]
}

function deliverableText(deliverable: Lists['deliverables'][number]): string {
  const { kind, name, frames, widthPx, heightPx, fpsNum, fpsDen, dropFrame, fileType, fileCapBytes } =
    deliverable
  const what =
    kind === 'loop' && fpsNum !== null && fpsDen !== null
      ? `loop video at ${frameRateName(fpsNum, fpsDen, dropFrame)} frames a second`
      : `${kind === 'stills' ? 'stills' : 'frame set'}, ${countText(frames ?? 0, 'frame')}`
  const cap = fileCapBytes === null ? '' : `, ${bytesText(fileCapBytes)} at most`
  return `${name}: ${what}, ${widthPx} × ${heightPx} px ${fileType}${cap}`
}

function rowText({ viewAngleMdeg, framesPerTurn, overlapFrames }: Lists['rows'][number]): string {
  const angle = `${formatDecimal(viewAngleMdeg ?? 0, 3)}°`
  const overlap = overlapFrames ? ` and ${overlapFrames} past it` : ''
  return `at ${angle}, ${countText(framesPerTurn ?? 0, 'frame')} a turn${overlap}`
}

function pictureText({ whiteCode, fillPpm }: Pick<BriefValue, 'whiteCode' | 'fillPpm'>): string {
  const white = whiteCode === null ? 'white as it falls' : `white ${whiteCode}`
  return fillPpm === null ? white : `${white}, the product fills ${percentText(fillPpm / 1_000_000)}`
}
