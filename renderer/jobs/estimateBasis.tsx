import { fromTakes } from '../../main/trade/paceFrom.ts'
import words from '../look/words.module.css'
import { dayText } from '../parts/format.ts'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'

/** What the bench times of a list are, and from how many takes they come. */
export function EstimateBasis() {
  const { today } = useStudio()
  const from = useAsk(['pace', 'from'], () => api.pace.from.query())
  return (
    <p className={words.quiet}>
      {from.data
        ? `Bench times are means, so that they add up: ${fromTakes(from.data, (day) => dayText(day, today))}. The quote tells the median and the time that four in five stay under.`
        : '\u00a0'}
    </p>
  )
}
