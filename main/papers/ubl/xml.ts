import { Refusal } from '../../trade/refusal.ts'

/** An element with its text or its children, in order. What is null was not known and is left out. */
export interface Element {
  readonly name: string
  readonly attributes: Readonly<Record<string, string>>
  readonly content: string | readonly Element[]
}

export type Part = Element | readonly Part[] | null

/** An element with text; none where the text is not known or empty. */
export function term(
  name: string,
  text: string | null | undefined,
  attributes: Readonly<Record<string, string>> = {},
): Element | null {
  return text === null || text === undefined || text === '' ? null : { name, attributes, content: text }
}

/** An element of other elements; none where it would be empty. */
export function group(name: string, ...parts: readonly Part[]): Element | null {
  const content = flat(parts)
  return content.length === 0 ? null : { name, attributes: {}, content }
}

function flat(parts: readonly Part[]): readonly Element[] {
  return parts.flatMap((part) => (part === null ? [] : isList(part) ? flat(part) : [part]))
}

function isList(part: Element | readonly Part[]): part is readonly Part[] {
  return Array.isArray(part)
}

/**
 * The document as XML 1.0 text in UTF-8, an element a line; the same bytes for the same element. Refuses characters
 * that XML cannot hold even escaped.
 */
export function xmlText(root: Element): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${written(root, '')}`
}

function written({ name, attributes, content }: Element, indent: string): string {
  const start = `${indent}<${name}${Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${escaped(value)}"`)
    .join('')}>`
  if (typeof content === 'string') return `${start}${escaped(content)}</${name}>\n`
  const inner = content.map((child) => written(child, `${indent}  `)).join('')
  return `${start}\n${inner}${indent}</${name}>\n`
}

const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  // A reader would make a bare carriage return a line feed.
  '\r': '&#13;',
}

// XML 1.0, production Char: everything else is refused. The unicode flag makes half a surrogate pair stand out.
const forbidden = /[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/u

function escaped(text: string): string {
  if (forbidden.test(text)) {
    throw new Refusal(
      'xml-character',
      `‘${text.replaceAll(new RegExp(forbidden, 'gu'), '□')}’ holds a character that an electronic invoice cannot carry, shown here as □. Send the PDF, or credit the invoice and write it anew.`,
    )
  }
  return text.replaceAll(/[&<>"\r]/gu, (character) => entities[character] ?? character)
}
