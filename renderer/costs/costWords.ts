import type { Answers } from '../../main/api/types.ts'

export type JobCosts = Answers['jobCosts']['ofJob']
export type Cost = JobCosts['costs'][number]

export const kindWords: Readonly<Record<Cost['kind'], string>> = {
  hire: 'Hire',
  carrier: 'Carrier',
  travel: 'Travel',
  finishing: 'Bought-in finishing',
  props: 'Props',
  hours: 'People’s hours',
  other: 'Other',
}
