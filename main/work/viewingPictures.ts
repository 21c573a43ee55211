/** Pictures to look at, by their frame's place: those last asked for, as many as fit so many bytes. */
export class ViewingPictures {
  readonly #mostBytes: number
  readonly #pictures = new Map<number, Uint8Array>()
  #bytes = 0

  constructor(mostBytes: number) {
    this.#mostBytes = mostBytes
  }

  get bytes(): number {
    return this.#bytes
  }

  get(place: number): Uint8Array | undefined {
    const picture = this.#pictures.get(place)
    if (picture) {
      this.#pictures.delete(place)
      this.#pictures.set(place, picture)
    }
    return picture
  }

  set(place: number, picture: Uint8Array): void {
    this.#drop(place)
    this.#pictures.set(place, picture)
    this.#bytes += picture.length
    for (const oldest of this.#pictures.keys()) {
      if (this.#bytes <= this.#mostBytes) return
      this.#drop(oldest)
    }
  }

  #drop(place: number): void {
    this.#bytes -= this.#pictures.get(place)?.length ?? 0
    this.#pictures.delete(place)
  }
}
