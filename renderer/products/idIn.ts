/** An id in the address, or null where there is none or something else. */
export function idIn(text: string | null): number | null {
  return text !== null && /^[1-9]\d{0,14}$/u.test(text) ? Number(text) : null
}
