import type { DemoClock } from './clock.ts'

/** What happens to one thing over time: it acts, and yields the instant at which it goes on. */
export type Story = AsyncGenerator<Date, void, void>

/**
 * Plays all stories at once in the order of their instants, moving the clock, so that numbers, bookings and
 * the history come in the order in which they would have come. A story that wants to go on after the demo is
 * made stays where it stands. Two that go on at one instant keep the order of the list.
 */
export async function play(stories: readonly Story[], clock: DemoClock): Promise<void> {
  const waiting: { at: Date; order: number; story: Story }[] = []
  const goOn = async (story: Story, order: number) => {
    const { done, value } = await story.next()
    if (!done) insertInOrder(waiting, { at: value, order, story })
  }
  for (const [order, story] of stories.entries()) await goOn(story, order)
  for (let next = waiting.shift(); next; next = waiting.shift()) {
    if (next.at > clock.madeAt) {
      await next.story.return()
      continue
    }
    if (next.at > clock.now) clock.moveTo(next.at)
    await goOn(next.story, next.order)
  }
}

function insertInOrder<T extends { readonly at: Date; readonly order: number }>(list: T[], entry: T): void {
  const isLater = (other: T) =>
    other.at.getTime() === entry.at.getTime() ? other.order > entry.order : other.at > entry.at
  const index = list.findIndex(isLater)
  list.splice(index === -1 ? list.length : index, 0, entry)
}
