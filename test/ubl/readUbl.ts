import { XMLParser } from 'fast-xml-parser'

/** An element as it was read back, its name without the prefix. */
export interface Node {
  readonly name: string
  readonly attributes: Readonly<Record<string, string>>
  readonly text: string
  readonly children: readonly Node[]
}

type Raw = Readonly<Record<string, unknown>>

/** Reads XML back with another hand than the writer's: every element with its text, in the order of the file. */
export function readUbl(xml: string): Node {
  const parser = new XMLParser({
    preserveOrder: true,
    ignoreAttributes: false,
    attributeNamePrefix: '',
    parseTagValue: false,
    parseAttributeValue: false,
    trimValues: false,
    ignoreDeclaration: true,
    htmlEntities: true,
  })
  const roots = (parser.parse(xml) as readonly Raw[]).flatMap(nodeOf)
  const [root] = roots
  if (!root || roots.length > 1) throw new Error('The file has no single root.')
  return root
}

function nodeOf(raw: Raw): readonly Node[] {
  const name = Object.keys(raw).find((key) => key !== ':@' && key !== '#text')
  if (name === undefined) return []
  const inside = raw[name] as readonly Raw[]
  return [
    {
      name: name.replace(/^.*:/u, ''),
      attributes: (raw[':@'] ?? {}) as Readonly<Record<string, string>>,
      text: inside
        .filter((one) => '#text' in one)
        .map((one) => String(one['#text']))
        .join(''),
      children: inside.flatMap(nodeOf),
    },
  ]
}

/** All elements at the end of a path such as 'TaxTotal/TaxSubtotal'. */
export function all(node: Node, path: string): readonly Node[] {
  return path
    .split('/')
    .reduce<readonly Node[]>(
      (nodes, step) => nodes.flatMap(({ children }) => children.filter(({ name }) => name === step)),
      [node],
    )
}

export function one(node: Node, path: string): Node | undefined {
  return all(node, path)[0]
}

/** The text at the end of a path, or undefined where there is none but spaces. */
export function textAt(node: Node, path: string): string | undefined {
  return one(node, path)?.text.trim() || undefined
}

/** The element and everything under it. */
export function within(node: Node): readonly Node[] {
  return [node, ...node.children.flatMap(within)]
}
