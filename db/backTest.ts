import { BackTest, type BackTestFigures } from '../main/trade/backTest.ts'
import type { Db } from './open.ts'
import { thePace } from './pace.ts'
import { takeFacts } from './takeFacts.ts'

/** Few enough to be read and quoted while nobody waits for another answer. */
const takesAtOnce = 200

/**
 * Quotes every past spin of the studio from what was known before its job, against the flat setting. Yields how
 * many takes are done after each lot, so that others are answered in between; gives the figures at the end, or
 * undefined where no spin was ever turned to its end.
 */
export function* backTestOf(db: Db): Generator<number, BackTestFigures | undefined, void> {
  const test = new BackTest(thePace(db))
  let done = 0
  for (const lot of takeFacts(db, takesAtOnce)) {
    for (const take of lot) test.see(take)
    done += lot.length
    yield done
  }
  return test.figures()
}
