import { backTestOf } from '../../db/backTest.ts'
import { haveTakesChanged, type TakesStamp, takesStamp } from '../../db/learnedPace.ts'
import type { Db } from '../../db/open.ts'
import { thePace } from '../../db/pace.ts'
import { endedTakes } from '../../db/takeFacts.ts'
import type { BackTestFigures } from '../trade/backTest.ts'

/** How far the back-test is, or what came of it; null figures where no spin was turned to its end. */
export type BackTestState =
  | { readonly state: 'working'; readonly done: number; readonly takes: number }
  | { readonly state: 'done'; readonly takes: number; readonly figures: BackTestFigures | null }
  | { readonly state: 'stopped' }

interface Run {
  readonly stamp: TakesStamp
  readonly setting: string
  readonly lots: Iterator<number, BackTestFigures | undefined>
  state: BackTestState
  /** A bug on the way: thrown to whoever asks next, so that it is logged and begun anew. */
  failure?: unknown
}

/** How long one stretch of work may keep other answers waiting, in ms. */
const stretchMs = 20
const runs = new WeakMap<Db, Run>()

/**
 * The back-test of this studio. Begun where there is none, or takes or settings have changed since; a small
 * studio's is done at once, a large one's goes on in stretches of 20 ms, between which the studio answers others.
 */
export function backTestState(db: Db): BackTestState {
  const before = runs.get(db)
  if (before?.failure !== undefined) {
    runs.delete(db)
    throw before.failure
  }
  if (before && isCurrent(db, before)) return before.state
  return startBackTest(db)
}

/** Begins the back-test anew, also after it was stopped. */
export function startBackTest(db: Db): BackTestState {
  const takes = endedTakes(db)
  const run: Run = {
    stamp: takesStamp(db),
    setting: JSON.stringify(thePace(db)),
    lots: backTestOf(db),
    state: { state: 'working', done: 0, takes },
  }
  runs.set(db, run)
  workOn(db, run)
  return run.state
}

/** Stops a back-test that is being worked on; nothing of it is kept. */
export function stopBackTest(db: Db): void {
  const run = runs.get(db)
  if (run?.state.state === 'working') run.state = { state: 'stopped' }
}

/** A run that is being worked on or was stopped stands until it is begun anew; a result, until facts change. */
function isCurrent(db: Db, run: Run): boolean {
  if (run.state.state === 'working' || run.state.state === 'stopped') return true
  return run.setting === JSON.stringify(thePace(db)) && !haveTakesChanged(db, run.stamp)
}

function workOn(db: Db, run: Run): void {
  // A studio that was closed, or a run that was begun anew, ends this one.
  if (run.state.state !== 'working' || !db.open || runs.get(db) !== run) return
  const until = performance.now() + stretchMs
  try {
    do {
      const next = run.lots.next()
      if (next.done) {
        run.state = { state: 'done', takes: run.state.takes, figures: next.value ?? null }
        return
      }
      run.state = { ...run.state, done: next.value }
    } while (performance.now() < until)
  } catch (error) {
    run.failure = error
    return
  }
  setImmediate(() => workOn(db, run))
}
