import { useMemo } from 'react'
import { Link } from 'react-router'
import { ButtonLink } from '../parts/button.tsx'
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
  const { viewAngleDeg } = plan.picture
  const angles = useMemo(
    () => (job ? job.brief.rows.map((row) => row.viewAngleDeg) : [viewAngleDeg]),
    [job, viewAngleDeg],
  )
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
            <ButtonLink kind="main" to={quoteAddress(job.jobId, plan.turn)}>
              Use in the quote
            </ButtonLink>
          ) : null
        }
      >
        <div className={css.planner}>
          <div className={css.main}>
            <TurnPart plan={plan} isStanding={standing.has('turn')} />
            <SmoothPart smooth={plan.smooth} picture={plan.picture} frames={plan.turn.frames} />
            <LoopPart loop={plan.loop} frames={plan.turn.frames} />
            <PicturePart picture={plan.picture} isStanding={standing.has('picture')} />
            <SharpPart sharp={plan.sharp} picture={plan.picture} exposure={plan.exposure} />
            <CardsPart cards={plan.cards} />
            <PrintsPart
              turn={plan.turn}
              prints={plan.prints}
              isTurnWrong={standing.has('turn')}
              isWrong={standing.has('turn') || standing.has('prints') || standing.has('sets')}
              setFrames={plan.sets.size}
              angles={angles}
            />
          </div>
          <CostSide cost={plan.cost} studio={studio} />
        </div>
      </Page>
    </PlannerHandHere>
  )
}
