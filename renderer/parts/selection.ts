import { useState } from 'react'

/** Which rows are chosen: some by their keys, or all that match the filter, on every page. */
export type Chosen<K extends string | number> =
  | { readonly which: 'some'; readonly keys: ReadonlySet<K> }
  | { readonly which: 'all' }

/** A selection that a `Table` draws and an act reads. */
export interface Selection<K extends string | number> {
  readonly chosen: Chosen<K>
  readonly has: (key: K) => boolean
  /** How many are chosen, given how many match in all. */
  readonly count: (total: number) => number
  /** Chooses or drops one row; with `range`, every row from the last touched one to it. */
  readonly toggle: (key: K, rowsInOrder: readonly K[], range: boolean) => void
  readonly choose: (keys: readonly K[]) => void
  readonly chooseAll: () => void
  readonly clear: () => void
}

/** Keeps which rows of a table are chosen. */
export function useSelection<K extends string | number>(): Selection<K> {
  const [chosen, setChosen] = useState<Chosen<K>>({ which: 'some', keys: new Set() })
  const [last, setLast] = useState<K | undefined>(undefined)
  return {
    chosen,
    has: (key) => chosen.which === 'all' || chosen.keys.has(key),
    count: (total) => (chosen.which === 'all' ? total : chosen.keys.size),
    toggle: (key, rowsInOrder, range) => {
      // From 'all that match' a single press keeps what this page shows, less the row pressed.
      const before = chosen.which === 'all' ? new Set(rowsInOrder) : chosen.keys
      setChosen({ which: 'some', keys: toggled(before, key, rowsInOrder, range ? last : undefined) })
      setLast(key)
    },
    choose: (keys) => setChosen({ which: 'some', keys: new Set(keys) }),
    chooseAll: () => setChosen({ which: 'all' }),
    clear: () => setChosen({ which: 'some', keys: new Set() }),
  }
}

/**
 * The chosen keys after a press on one: it changes sides, and with `from` the whole stretch between the two
 * takes the side it went to.
 */
export function toggled<K>(
  before: ReadonlySet<K>,
  key: K,
  rowsInOrder: readonly K[],
  from: K | undefined,
): ReadonlySet<K> {
  const after = new Set(before)
  const joins = !before.has(key)
  const [a, b] = [from === undefined ? -1 : rowsInOrder.indexOf(from), rowsInOrder.indexOf(key)]
  const stretch = a < 0 ? [key] : rowsInOrder.slice(Math.min(a, b), Math.max(a, b) + 1)
  for (const one of stretch) {
    if (joins) after.add(one)
    else after.delete(one)
  }
  return after
}
