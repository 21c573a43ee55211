/**
 * A product's name with its variant, as a spin is called: 'Desk lamp, sand'. Many clients' lists say the variant in
 * the name already ('Flacon, 50 ml' with the variant '50 ml'); then it is not said twice.
 */
export function nameWithVariant(name: string, variant: string | null): string {
  const said = variant?.trim() ?? ''
  if (said === '' || saysAlready(name, said)) return name
  return `${name}, ${said}`
}

// As whole words only: the variant 'red' is not said by 'Hundred'.
function saysAlready(name: string, variant: string): boolean {
  const wordsOf = (text: string) =>
    ` ${text
      .toLowerCase()
      .split(/[^\p{L}\p{N}.]+/u)
      .filter((word) => word !== '')
      .join(' ')} `
  return wordsOf(name).includes(wordsOf(variant))
}
