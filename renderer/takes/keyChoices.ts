/** What a key can do at the bench, in the order it is shown. */
export const keyActs = [
  'frame',
  'voidLast',
  'back',
  'pause',
  'fault',
  'note',
  'beat',
  'end',
  'sound',
  'fullScreen',
] as const
export type KeyAct = (typeof keyActs)[number]

/** The keys of each act, by the name the browser gives them; letters small. */
export type BenchKeys = Readonly<Record<KeyAct, readonly string[]>>

/**
 * Page-turners and slide remotes send Page Down and Page Up, or arrows; their other buttons F5, Esc and the full stop.
 * Shutter remotes for telephones send Enter or a volume key, which reaches the page on some devices alone. Common
 * practice, no published source: another remote's keys are told to the program by pressing them.
 */
export const defaultKeys: BenchKeys = {
  frame: [' ', 'Enter', 'PageDown', 'ArrowRight', 'ArrowDown', 'AudioVolumeUp'],
  voidLast: ['Backspace', 'PageUp', 'ArrowLeft', 'ArrowUp', 'AudioVolumeDown'],
  back: ['b'],
  pause: ['p', 'F5', 'Escape'],
  fault: ['f', '.'],
  note: ['n'],
  beat: ['t'],
  end: ['e'],
  sound: ['s'],
  fullScreen: ['l'],
}

/** The digits mark the kinds of fault, wherever the bench is; they are for nothing else. */
export const faultDigits: readonly string[] = ['1', '2', '3', '4', '5', '6', '7', '8']

/** A key by the name that `BenchKeys` holds. */
export function keyName(key: string): string {
  return key.length === 1 ? key.toLowerCase() : key
}

/** The act of a key, or undefined where it has none. */
export function actOfKey(keys: BenchKeys, key: string): KeyAct | undefined {
  const name = keyName(key)
  return keyActs.find((act) => keys[act].includes(name))
}

/** Keys that are never given away: they move the focus, name faults or are only held down. */
export function isTakenKey(key: string): boolean {
  return (
    faultDigits.includes(key) ||
    [
      'Tab',
      'Shift',
      'Control',
      'Alt',
      'Meta',
      'AltGraph',
      'CapsLock',
      'Dead',
      'Process',
      'Unidentified',
    ].includes(key)
  )
}

/** Gives a key to an act and takes it from any other, so that one key does one thing. */
export function withKey(keys: BenchKeys, act: KeyAct, key: string): BenchKeys {
  const name = keyName(key)
  const others = mapped((one) => keys[one].filter((other) => other !== name))
  return { ...others, [act]: [...others[act], name] }
}

/** Takes a key away from what it did. */
export function withoutKey(keys: BenchKeys, key: string): BenchKeys {
  return mapped((act) => keys[act].filter((other) => other !== keyName(key)))
}

/** Reads keys that a device kept; acts it does not know keep their first keys. */
export function keysFrom(kept: unknown): BenchKeys {
  if (typeof kept !== 'object' || kept === null) return defaultKeys
  const record = kept as Readonly<Record<string, unknown>>
  const seen = new Set<string>()
  return mapped((act) => {
    const list = record[act]
    const names: unknown[] = Array.isArray(list) ? list : [...defaultKeys[act]]
    return names.filter((key): key is string => {
      if (typeof key !== 'string' || key === '' || isTakenKey(key) || seen.has(key)) return false
      seen.add(key)
      return true
    })
  })
}

const words: Readonly<Record<string, string>> = {
  ' ': 'space',
  Enter: 'enter',
  Backspace: 'backspace',
  Delete: 'delete',
  Escape: 'esc',
  PageDown: 'page down',
  PageUp: 'page up',
  ArrowRight: '→',
  ArrowLeft: '←',
  ArrowUp: '↑',
  ArrowDown: '↓',
  AudioVolumeUp: 'volume +',
  AudioVolumeDown: 'volume −',
  '.': 'full stop',
}

/** A key as a person calls it: `space`, `page down`, `B`. */
export function keyWord(key: string): string {
  return words[key] ?? (key.length === 1 ? key.toUpperCase() : key)
}

function mapped(of: (act: KeyAct) => readonly string[]): BenchKeys {
  return Object.fromEntries(keyActs.map((act) => [act, of(act)])) as unknown as BenchKeys
}
