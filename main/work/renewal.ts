/** Work that is done anew whenever it is due: never twice at once, and never so often that it takes all the time. */
export class Renewal {
  readonly #make: () => Promise<void>
  readonly #restMs: number
  readonly #share: number
  #timer: NodeJS.Timeout | undefined
  #isDue = false
  #isMaking = false
  #isStopped = false
  #endedMs = Number.NEGATIVE_INFINITY
  #tookMs = 0

  /**
   * @param restMs  the least time from one to the next
   * @param share   the rest is at least so many times what the last one took
   */
  constructor(
    make: () => Promise<void>,
    { restMs, share }: { readonly restMs: number; readonly share: number },
  ) {
    this.#make = make
    this.#restMs = restMs
    this.#share = share
  }

  /** It is due: at once, or as soon as it may be. */
  due(): void {
    this.#isDue = true
    if (this.#isMaking || this.#isStopped || this.#timer) return
    const rest = Math.max(this.#restMs, this.#share * this.#tookMs)
    const waitMs = Math.max(0, this.#endedMs + rest - performance.now())
    this.#timer = setTimeout(() => void this.#renew(), waitMs)
    this.#timer.unref()
  }

  stop(): void {
    this.#isStopped = true
    clearTimeout(this.#timer)
  }

  async #renew(): Promise<void> {
    this.#timer = undefined
    this.#isDue = false
    this.#isMaking = true
    const begunMs = performance.now()
    try {
      await this.#make()
    } finally {
      this.#isMaking = false
      this.#endedMs = performance.now()
      this.#tookMs = this.#endedMs - begunMs
    }
    if (this.#isDue) this.due()
  }
}
