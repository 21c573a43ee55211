/** The picture types that every browser shows and a client's label sheet may carry. */
export type PictureType = 'image/jpeg' | 'image/png' | 'image/webp'

/**
 * What kind of picture the bytes are, told by their beginning and not by a name; undefined for anything else.
 * JPEG: SOI marker FF D8 FF (ITU-T T.81). PNG: its eight-byte signature (ISO/IEC 15948). WebP: a RIFF file
 * of form WEBP (RFC 9649).
 */
export function pictureType(bytes: Uint8Array): PictureType | undefined {
  if (startsWith(bytes, 0, [0xff, 0xd8, 0xff])) return 'image/jpeg'
  if (startsWith(bytes, 0, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return 'image/png'
  const riff = [0x52, 0x49, 0x46, 0x46]
  const webp = [0x57, 0x45, 0x42, 0x50]
  return startsWith(bytes, 0, riff) && startsWith(bytes, 8, webp) ? 'image/webp' : undefined
}

function startsWith(bytes: Uint8Array, at: number, wanted: readonly number[]): boolean {
  return wanted.every((byte, index) => bytes[at + index] === byte)
}
