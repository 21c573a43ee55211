import type { BenchAct } from '../../main/trade/benchActs.ts'

/** A take, told apart from those of other studios that this device has opened: two takes never start at one instant. */
export interface TakeRef {
  readonly takeId: number
  readonly startedAt: string
}

/** An act as this device keeps it until the studio has answered, and where it was refused, until somebody has seen it. */
export interface KeptAct {
  readonly key: string
  readonly take: TakeRef
  /** Its place among the acts of this device; only grows. */
  readonly order: number
  /** When it was done by this device's clock, in milliseconds since 1970. */
  readonly atMs: number
  readonly act: BenchAct
  /** Why the studio refused it for good. */
  readonly refusal?: { readonly code: string; readonly sentence: string }
}

/** Where a device keeps acts, so that a page that is reloaded, closed or killed loses none. */
export interface ActKeep {
  /** The acts of all takes in the order in which they were done. */
  list(): Promise<readonly KeptAct[]>
  /** Kept durably once the promise is. The same key again takes the place of the one before. */
  put(acts: readonly KeptAct[]): Promise<void>
  remove(keys: readonly string[]): Promise<void>
}

const databaseName = 'turnsheet-bench'
const store = 'acts'

/**
 * Acts in the browser's own database. Its strict transactions are on the disk before they are told done, which
 * localStorage, written seconds later, does not promise.
 */
export function browserKeep(): ActKeep {
  let opened: Promise<IDBDatabase> | undefined
  const database = () => {
    opened ??= openDatabase()
    opened.catch(() => {
      opened = undefined
    })
    return opened
  }
  const write = async (work: (acts: IDBObjectStore) => void): Promise<void> => {
    const transaction = (await database()).transaction(store, 'readwrite', { durability: 'strict' })
    work(transaction.objectStore(store))
    return new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve()
      transaction.onabort = () => reject(transaction.error)
      transaction.onerror = () => reject(transaction.error)
    })
  }
  return {
    async list() {
      const acts = (await database()).transaction(store).objectStore(store)
      const all: KeptAct[] = await answered(acts.getAll())
      return all.sort((a, b) => a.order - b.order)
    },
    put: (acts) => write((kept) => acts.forEach((act) => void kept.put(act))),
    remove: (keys) => write((kept) => keys.forEach((key) => void kept.delete(key))),
  }
}

async function openDatabase(): Promise<IDBDatabase> {
  // A browser short of space may clear what it was not asked to keep.
  if (navigator.storage?.persist) await navigator.storage.persist().catch(() => false)
  const request = indexedDB.open(databaseName, 1)
  request.onupgradeneeded = () => request.result.createObjectStore(store, { keyPath: 'key' })
  return answered(request)
}

function answered<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result)
    request.onerror = () => reject(request.error)
  })
}
