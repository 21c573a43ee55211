/** The oldest Node.js whose Node-API the SQLite binding can be loaded by; an older one crashes without a word. */
const oldestNode = 22

/** What to say where the program runs on a Node.js that is too old; undefined where it will do. */
export function nodeIsTooOld(version: string): string | undefined {
  if (Number(version.split('.')[0]) >= oldestNode) return undefined
  return `Turnsheet needs Node ${oldestNode} or newer, and this is ${version}. Run 'npm rebuild node' here once, or install a newer one.`
}
