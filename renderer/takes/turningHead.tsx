import type { ReactNode } from 'react'
import { Link } from 'react-router'
import css from './turning.module.css'
import type { TakePage } from './turningState.ts'

/** What is on the platter, so that nobody turns the wrong thing; `children` are the buttons beside it. */
export function TakeHead({ page, children }: { readonly page: TakePage; readonly children?: ReactNode }) {
  const { take } = page
  return (
    <header className={css.head}>
      <title>{`Take ${take.number}, ${page.spin} · Turnsheet`}</title>
      <div className={css.told}>
        <h1>
          {page.spin} <span className={css.codes}>{page.codes.join(' ')}</span>
        </h1>
        <p>
          {[
            `take ${take.number}`,
            page.rows > 1 ? `row ${take.row} of ${page.rows}` : undefined,
            `${take.rigName}, revision ${take.revision}`,
            page.direction,
            page.startPose ? `start: ${page.startPose}` : undefined,
          ]
            .filter(Boolean)
            .join(' · ')}
        </p>
      </div>
      <div className={css.headActs}>
        {children}
        {take.endedAt === null ? (
          <Link className={css.headAct} to={`/takes/${take.id}/check`}>
            Look at the pictures
          </Link>
        ) : null}
        <Link className={css.headAct} to={`/jobs/${page.jobId}/takes?spin=${take.shootId}`}>
          {take.endedAt === null ? 'Leave it running' : `Takes of ${page.jobNumber}`}
        </Link>
      </div>
    </header>
  )
}
