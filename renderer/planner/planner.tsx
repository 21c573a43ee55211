import { Link } from 'react-router'
import { Button, ButtonLink } from '../parts/button.tsx'
import { Page } from '../parts/page.tsx'
import { CardsPart } from './cardsPart.tsx'
import { CostSide } from './costSide.tsx'
import { LoopPart } from './loopPart.tsx'
import { PicturePart } from './picturePart.tsx'
import css from './planner.module.css'
import { PlannerHandHere } from './plannerFields.tsx'
import type { PlannerStart } from './prefill.ts'
import { PrintsPart } from './printsPart.tsx'
import { quoteAddress } from './quoteAddress.ts'
import { SharpPart } from './sharpPart.tsx'
import { SmoothPart } from './smoothPart.tsx'
import { TurnPart } from './turnPart.tsx'
import { usePlan } from './usePlan.ts'

/** One screen from rim to price; everything follows what is typed. */
export function Planner({ start }: { readonly start: PlannerStart }) {
  const { hand, worked, studio } = usePlan(start)
  const { plan, standing } = worked
  const { job } = start
  const isRowWrong = standing.has('turn') || standing.has('angles')
  return (
    <PlannerHandHere value={hand}>
      <Page
        title="Planner"
        lead={
          job ? (
            <>
              {`The turn for ${job.number}, `}
              <Link to={`/jobs/${job.jobId}`}>{job.title}</Link>
              {'. Nothing is changed in the job.'}
            </>
          ) : (
            'What would this turn be, look like, take and cost? The address keeps what you type.'
          )
        }
        acts={
          job ? (
            <UseInQuote to={quoteAddress(job.jobId, plan.turn, plan.angles)} isWrong={isRowWrong} />
          ) : null
        }
      >
        <div className={css.planner}>
          <div className={css.main}>
            <TurnPart plan={plan} isStanding={standing.has('turn')} />
            <SmoothPart smooth={plan.smooth} picture={plan.picture} turn={plan.turn} />
            <LoopPart loop={plan.loop} turn={plan.turn} />
            <PicturePart
              picture={plan.picture}
              rowCount={plan.turn.rows.length}
              isStanding={standing.has('picture') || standing.has('angles')}
            />
            <SharpPart sharp={plan.sharp} picture={plan.picture} exposure={plan.exposure} />
            <CardsPart cards={plan.cards} />
            <PrintsPart
              turn={plan.turn}
              prints={plan.prints}
              isTableWrong={isRowWrong}
              isWrong={standing.has('turn') || standing.has('prints') || standing.has('sets')}
              setFrames={plan.sets.size}
              angles={plan.angles}
            />
          </div>
          <CostSide cost={plan.cost} studio={studio} />
        </div>
      </Page>
    </PlannerHandHere>
  )
}

/** Takes the turn over into the job's quote; not while what is typed makes none. */
function UseInQuote({ to, isWrong }: { readonly to: string; readonly isWrong: boolean }) {
  if (isWrong) {
    return (
      <Button kind="main" disabled>
        Use in the quote
      </Button>
    )
  }
  return (
    <ButtonLink kind="main" to={to}>
      Use in the quote
    </ButtonLink>
  )
}
