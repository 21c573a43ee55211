import { clock } from '../../main/trade/bench.ts'
import type { BenchAct } from '../../main/trade/benchActs.ts'
import { holderWords } from '../../main/trade/benchHold.ts'
import { dayOf, minutesOfDay } from '../../main/trade/calendar.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { countText, numberText } from '../parts/format.ts'
import { useStudio } from '../shell/studio.ts'
import { type BenchQueue, waitingCount } from './benchQueue.ts'
import css from './turning.module.css'
import type { TakePage } from './turningState.ts'

interface OfTake {
  readonly page: TakePage
  readonly queue: BenchQueue
}

/** Somebody else has the take: who, and the way to take it over. It can be watched meanwhile. */
export function HandedOver({ page, queue }: OfTake) {
  const who = useWhoHas(page)
  if (queue.hand === 'asking') return null
  const isWindow = queue.hand === 'other window'
  return (
    <div className={css.missing} role="alert">
      <p>
        {isWindow
          ? 'This take is open in another window of this device. Here you can watch it.'
          : `In other hands: ${who}. Here you can watch it.`}
      </p>
      {queue.waiting > 0 && !isWindow ? (
        <Unsent page={page} queue={queue} />
      ) : (
        <Button large onClick={queue.takeOver}>
          {isWindow ? 'Go on in this window' : 'Take it over'}
        </Button>
      )}
    </div>
  )
}

/** Acts done here before this bench knew that it had lost the take: nobody but the person can tell where they belong. */
function Unsent({ page, queue }: OfTake) {
  const since = page.hold?.since ?? ''
  const startedMs = Date.parse(page.take.startedAt)
  const others = page.frames.filter(({ offsetMs }) => startedMs + offsetMs > Date.parse(since)).length
  const from = queue.confirmed.nextMark
  const to = queue.ahead.nextMark
  return (
    <>
      <p>
        {`${waitingCount(queue)} done here ${queue.waiting === 1 ? 'has' : 'have'} not reached the studio: kept on this device, not in the take.`}
      </p>
      {others > 0 ? (
        <p>
          {`${countText(others, 'frame')} ${others === 1 ? 'was' : 'were'} shot there since. Sent now, those from here come after ${others === 1 ? 'it' : 'them'}${to > from ? `, at marks ${numberText(from + 1)} to ${numberText(to)}` : ''}.`}
        </p>
      ) : null}
      <ButtonRow>
        <Button large onClick={queue.takeOver}>
          Take it back and send them
        </Button>
        <Button large onClick={queue.letGo}>
          Let them go
        </Button>
      </ButtonRow>
    </>
  )
}

/** What this device still keeps of a take that it could not bring into it, until somebody has seen it. */
export function KeptHere({ queue }: { readonly queue: BenchQueue }) {
  const { refused, isKeeping } = queue
  return (
    <>
      {refused.length > 0 ? (
        <div className={css.kept} role="alert">
          <p>{`Not taken in by the studio, kept on this device: ${countText(refused.length, 'act')}.`}</p>
          <ul>
            {[
              ...new Set(refused.map(({ act, refusal }) => `${actWords(act)}: ${refusal?.sentence ?? ''}`)),
            ].map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          <Button onClick={queue.seen}>I have seen it</Button>
        </div>
      ) : null}
      {isKeeping ? null : (
        <p className={css.kept} role="alert">
          This browser keeps nothing on this device. Leave this page open until the studio has everything.
        </p>
      )}
    </>
  )
}

/** What somebody did at the bench, in words. Marks count from 1 as they are shown. */
export function actWords(act: BenchAct): string {
  switch (act.kind) {
    case 'frame':
      return act.mark === undefined ? 'A frame' : `A frame at mark ${act.mark + 1}`
    case 'void':
      return `Frame ${act.frame} made void`
    case 'restore':
      return `Frame ${act.frame} made good again`
    case 'back':
      return `Back to mark ${act.mark + 1}`
    case 'pause':
      return 'A pause'
    case 'resume':
      return 'On after a pause'
    case 'fault':
      return `A fault: ${act.fault}${act.frame === null ? '' : ` at frame ${act.frame}`}`
    case 'note':
      return 'A note'
    case 'end':
      return 'The end of the take'
  }
}

function useWhoHas({ take, hold, frames }: TakePage): string {
  const { timeZone } = useStudio()
  const now = new Date()
  const since = hold?.since ?? take.startedAt
  const last = frames.at(-1)
  return holderWords({
    person: hold?.personName ?? take.personName,
    place: hold?.place ?? null,
    sinceClock: clock(minutesOfDay(since, timeZone)),
    sinceDay: dayOf(since, timeZone) === dayOf(now, timeZone) ? null : dayOf(since, timeZone),
    lastFrameMs: last ? now.getTime() - Date.parse(take.startedAt) - last.offsetMs : null,
  })
}
