import { townHolidays } from '../cast/holidays.ts'
import type { DemoClock } from '../clock.ts'
import type { Api } from '../setUp.ts'

/** Takes in the town's holidays from today on; none so near that the stories have booked it. */
export async function takeInHolidays(api: Api, clock: DemoClock): Promise<void> {
  const text = townHolidays(clock.today)
  const { holidays } = await api.holidays.preview({ text })
  await api.holidays.take({
    text,
    fileName: 'town holidays.ics',
    sourceUids: holidays.filter(({ fromDay }) => fromDay > clock.day(37)).map(({ sourceUid }) => sourceUid),
  })
}
