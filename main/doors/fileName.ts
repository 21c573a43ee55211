const reserved = /^(con|prn|aux|nul|com[0-9]|lpt[0-9])(\.|$)/i

/**
 * A paper's name as a file name that every system takes: no folder in it, no character Windows refuses,
 * not longer than 120 characters with its ending kept.
 * Source of the refused characters and names: Microsoft, 'Naming Files, Paths, and Namespaces'.
 */
export function fileName(name: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
  const plain = name.replace(/[<>:"/\\|?*\u0000-\u001f]/g, '-').replace(/^[. ]+|[. ]+$/g, '')
  const safe = reserved.test(plain) ? `_${plain}` : plain || 'paper'
  if (safe.length <= 120) return safe
  const dot = safe.lastIndexOf('.')
  const ending = dot > safe.length - 12 ? safe.slice(dot) : ''
  return safe.slice(0, 120 - ending.length) + ending
}
