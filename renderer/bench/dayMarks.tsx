import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { countText, durationText, weekdayText } from '../parts/format.ts'
import { useStudio } from '../shell/studio.ts'
import css from './benchPlan.module.css'

type Plan = Answers['benches']['plan']

/** So many marks of a kind are named on a day; of the others the count is said. */
const named = 6

/** What is due on a day, and whose goods are expected or came. */
export function DayMarks({ plan, day }: { readonly plan: Plan; readonly day: string }) {
  const { today } = useStudio()
  const due = plan.due.filter((mark) => mark.day === day)
  const goods = plan.goods.filter((mark) => mark.day === day)
  const late = day < today ? words.late : undefined
  return (
    <>
      {due.length > 0 ? (
        <ul className={css.due} aria-label={`Due on ${weekdayText(day, today)}`}>
          {due.slice(0, named).map((mark) => (
            <li key={mark.jobId} className={late}>
              <Link to={`/jobs/${mark.jobId}/bench`}>{`${mark.number} due`}</Link>
              {`, ${mark.client}, ${durationText(mark.benchMsLeft / 60_000)} left at the bench`}
            </li>
          ))}
          {due.length > named ? (
            <li className={late}>
              <Link to="/board?as=list">{`and ${countText(due.length - named, 'more job')} due`}</Link>
            </li>
          ) : null}
        </ul>
      ) : null}
      {goods.length > 0 ? (
        <ul className={css.goods} aria-label={`Goods on ${weekdayText(day, today)}`}>
          {goods.slice(0, named).map((mark) => (
            <li key={`${mark.jobId} ${mark.state}`}>
              <Link to={`/jobs/${mark.jobId}/samples`}>
                {mark.state === 'came' ? `${mark.number} goods came` : `${mark.number} goods expected`}
              </Link>
              {`, ${mark.client}, ${countText(mark.samples, 'sample')}`}
            </li>
          ))}
          {goods.length > named ? (
            <li>{`and goods of ${countText(goods.length - named, 'more job')}`}</li>
          ) : null}
        </ul>
      ) : null}
    </>
  )
}
