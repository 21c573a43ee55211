/** Small frames on one sheet: a JPEG, and how they lie on it. */
export interface MadeStrip {
  readonly bytes: Uint8Array
  readonly columns: number
  readonly cellWidthPx: number
  readonly cellHeightPx: number
}

/** The longest side of a small frame: what a product looked like can be told, and 24 of them take some 100 KB. */
const cellSidePx = 192
const mostColumns = 6
/** A middle grey stands where a frame cannot be read. */
const ground = '#777777'

/**
 * Makes one sheet of pictures, row by row, each small. A picture that cannot be had leaves its place empty.
 * @param pictures  each gives a JPEG when it is asked
 * @returns null where none can be had
 */
export async function contactSheet(
  pictures: readonly (() => Promise<Uint8Array | null>)[],
): Promise<MadeStrip | null> {
  const { default: sharp } = await import('sharp')
  const cells: { readonly place: number; readonly data: Buffer }[] = []
  let size: { readonly width: number; readonly height: number } | undefined
  for (const [place, picture] of pictures.entries()) {
    const jpeg = await picture()
    if (!jpeg) continue
    const { data, info } = await sharp(jpeg)
      .resize(
        size
          ? { ...size, fit: 'contain', background: ground }
          : { width: cellSidePx, height: cellSidePx, fit: 'inside' },
      )
      .png({ compressionLevel: 1 })
      .toBuffer({ resolveWithObject: true })
    size ??= { width: info.width, height: info.height }
    cells.push({ place, data })
  }
  if (!size) return null
  const { width, height } = size
  const columns = Math.min(mostColumns, pictures.length)
  const bytes = await sharp({
    create: {
      width: columns * width,
      height: Math.ceil(pictures.length / columns) * height,
      channels: 3,
      background: ground,
    },
  })
    .composite(
      cells.map(({ place, data }) => ({
        input: data,
        left: (place % columns) * width,
        top: Math.floor(place / columns) * height,
      })),
    )
    .jpeg({ quality: 82 })
    .toBuffer()
  return { bytes: new Uint8Array(bytes), columns, cellWidthPx: width, cellHeightPx: height }
}
