import type { Answers } from '../../main/api/types.ts'
import { dayIn, dayText } from '../parts/format.ts'

export type JobAnswersData = Answers['answers']['ofJob']
export type Item = JobAnswersData['items'][number]
export type ItemState = Item['state']

/** The states of a deliverable in the order of its way, and what each is called. */
export const itemStates: readonly (readonly [ItemState, string])[] = [
  ['to turn', 'to turn'],
  ['to pick', 'to pick'],
  ['to show', 'to show'],
  ['shown', 'waits for the client'],
  ['change wanted', 'change wanted'],
  ['yes', 'has the yes'],
  ['delivered', 'delivered'],
]

/** A key that tells items apart in a list. */
export function itemKey({ shootId, deliverableId }: Pick<Item, 'shootId' | 'deliverableId'>): string {
  return `${shootId} ${deliverableId}`
}

/** What is picked for an item, in a few words: `take 2`, `row 1 take 2, row 2 take 5`. */
export function pickText({ picks }: Item): string {
  return picks
    .map(({ row, takeNumber, startFrame, reversed }) =>
      [
        picks.length > 1 ? `row ${row} take ${takeNumber}` : `take ${takeNumber}`,
        startFrame > 1 ? `from frame ${startFrame}` : undefined,
        reversed ? 'backwards' : undefined,
      ]
        .filter(Boolean)
        .join(' '),
    )
    .join(', ')
}

/** Where an item stands with the client, in a sentence. */
export function answerText(item: Item, today: string, timeZone: string): string {
  const { answer } = item
  if (item.deliveryNumber !== null) return `with ${item.deliveryNumber}`
  if (item.state === 'yes' && answer) {
    return [`yes on ${dayText(dayIn(timeZone, new Date(answer.answeredAt)), today)}`, answer.words]
      .filter(Boolean)
      .join(': ')
  }
  if (item.state === 'shown' && item.answerByDay) return `answer by ${dayText(item.answerByDay, today)}`
  if (answer?.verdict === 'change') {
    return [`${answer.needs}, ${answer.cause}`, answer.words].filter(Boolean).join(': ')
  }
  return ''
}
