/**
 * The text of a list file. UTF-16 is told by its byte-order mark; what is no valid UTF-8 is read as
 * Windows-1252, in which older spreadsheets write (WHATWG Encoding gives every byte a character there).
 */
export function decodeList(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le').decode(bytes)
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder('utf-16be').decode(bytes)
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return new TextDecoder('windows-1252').decode(bytes)
  }
}
