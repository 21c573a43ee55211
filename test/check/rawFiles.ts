/** Writes TIFF structures by hand (TIFF 6.0), as raw files have them. */
export interface RawIfd {
  readonly entries: readonly (readonly [tag: number, type: 3 | 4, values: readonly number[]])[]
}

export class RawFile {
  readonly #isLittle: boolean
  readonly bytes: Buffer

  constructor(isLittle: boolean, size: number, magic = 42) {
    this.#isLittle = isLittle
    this.bytes = Buffer.alloc(size)
    this.bytes.write(isLittle ? 'II' : 'MM', 0, 'latin1')
    this.number(2, magic, 2)
    this.number(4, 8, 4)
  }

  number(at: number, value: number, size: 2 | 4): void {
    if (this.#isLittle) this.bytes.writeUIntLE(value, at, size)
    else this.bytes.writeUIntBE(value, at, size)
  }

  /** An IFD at a place, and where the next one stands; values that do not fit are laid at `spareAt`. */
  ifd(at: number, { entries }: RawIfd, next = 0, spareAt = 0): void {
    let spare = spareAt
    this.number(at, entries.length, 2)
    for (const [index, [tag, type, values]] of entries.entries()) {
      const place = at + 2 + 12 * index
      const size = type === 3 ? 2 : 4
      this.number(place, tag, 2)
      this.number(place + 2, type, 2)
      this.number(place + 4, values.length, 4)
      const isInside = values.length * size <= 4
      if (!isInside) this.number(place + 8, spare, 4)
      for (const [k, value] of values.entries())
        this.number((isInside ? place + 8 : spare) + k * size, value, size)
      if (!isInside) spare += values.length * size
    }
    this.number(at + 2 + 12 * entries.length, next, 4)
  }

  put(at: number, part: Uint8Array): void {
    this.bytes.set(part, at)
  }
}
