import type { Answers } from '../../main/api/types.ts'
import { dayText, moneyText, percentText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './quotes.module.css'

type Band = Answers['quotes']['outcomes']['bands'][number]

/** What clients said to which price a spin: 'won 6 of 9', and how sure so few make it. */
export function QuoteBands() {
  const { today } = useStudio()
  const { data } = useAsk(['quotes', 'outcomes'], () => api.quotes.outcomes.query())
  if (!data || data.bands.length === 0) return null
  const { bands, currency } = data
  return (
    <Part title="Won and lost by price a spin">
      <table className={css.bands}>
        <caption>
          {`Jobs quoted since ${dayText(data.sinceDay, today)} that the client took, or that were lost; of more than a thousand, the newest. The bar shows between which shares the chance of a yes probably lies: the fewer the jobs, the wider it is.`}
        </caption>
        <thead>
          <tr>
            <th scope="col">A spin, before tax</th>
            <th scope="col">Came to</th>
            <th scope="col">Chance of a yes</th>
            <th scope="col" className={css.figure}>
              Probably
            </th>
          </tr>
        </thead>
        <tbody>
          {bands.map((band, index) => (
            <tr key={band.fromMinor}>
              <th scope="row">{bandText(band, index, bands.length, currency)}</th>
              <td>{`won ${band.won} of ${band.jobs}`}</td>
              <td>
                <ChanceBar band={band} />
              </td>
              <td className={css.figure}>
                {`${percentText(band.chance.low)} to ${percentText(band.chance.high)}`}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Part>
  )
}

function bandText(band: Band, index: number, count: number, currency: string): string {
  const money = (minor: number) => moneyText(minor, currency)
  if (count === 1) return `${money(band.fromMinor)} to ${money(band.toMinor)}`
  if (index === 0) return `under ${money(band.toMinor)}`
  if (index === count - 1) return `${money(band.fromMinor)} and over`
  return `${money(band.fromMinor)} to under ${money(band.toMinor)}`
}

/** From 0 to 100 %: a line over the probable shares, a stroke at what was seen. */
function ChanceBar({ band }: { readonly band: Band }) {
  const at = (share: number) => Math.round(share * 1000) / 10
  const { low, high } = band.chance
  return (
    <svg className={css.chance} viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
      <line className={css.chanceScale} x1="0" x2="100" y1="5" y2="5" />
      <line className={css.chanceRange} x1={at(low)} x2={at(high)} y1="5" y2="5" />
      <line
        className={css.chanceSeen}
        x1={at(band.won / band.jobs)}
        x2={at(band.won / band.jobs)}
        y1="0"
        y2="10"
      />
    </svg>
  )
}
