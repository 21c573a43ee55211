import { type Store, storeOf } from '../shell/store.ts'

/** Which window of this device has a take: this one, another, or not known in the first moments. */
export type Grip = 'here' | 'other window' | 'asking'

/** So long a window that is being closed or loaded anew may take to let go. */
const patienceMs = 800

export interface WindowGrip {
  readonly grip: Store<Grip>
  /** Takes it from the other window. */
  readonly steal: () => void
  readonly release: () => void
}

/**
 * One window of a device at a time has a take, so that its acts are sent in one order. Another gets it when this
 * one is closed, or when it is taken.
 */
export function windowGrip(name: string): WindowGrip {
  const grip = storeOf<Grip>('asking')
  let release = () => {}
  if (!navigator.locks) {
    grip.set('here')
    return { grip, steal: () => {}, release }
  }
  let isOver = false
  const hold = () =>
    isOver
      ? undefined
      : new Promise<void>((resolve) => {
          release = resolve
          grip.set('here')
        })
  const lose = () => {
    if (isOver) return
    grip.set('other window')
    ask({})
  }
  const waiting = new AbortController()
  const ask = (options: LockOptions) => {
    // A request that is waiting is called off by the signal; one that steals can have none.
    const signal = options.steal ? {} : { signal: waiting.signal }
    navigator.locks.request(name, { ...options, ...signal }, hold).catch(lose)
  }
  ask({})
  setTimeout(() => {
    if (grip.get() === 'asking') grip.set('other window')
  }, patienceMs)
  return {
    grip,
    steal: () => ask({ steal: true }),
    release: () => {
      isOver = true
      waiting.abort()
      release()
    },
  }
}
