/** Hears of a thread that ended by a fault of the program; `where` says what it was doing. */
export type FaultHearer = (where: string, error: unknown) => void

const hearers = new Set<FaultHearer>()

/** From now on a fault of any thread is told here too, beside the sentence that the person reads. Gives the way to end it. */
export function hearThreadFaults(hearer: FaultHearer): () => void {
  hearers.add(hearer)
  return () => void hearers.delete(hearer)
}

/** Tells of a thread that broke. */
export function tellThreadFault(where: string, error: unknown): void {
  for (const hear of hearers) hear(where, error)
}

/** A thread that ended before it was done, without saying why. */
export function endedEarly(code: number): Error {
  return new Error(`The thread ended with code ${code} before it was done.`)
}
