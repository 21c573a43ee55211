/** What the bench sounds for. */
export const toneKinds = ['press', 'tenth', 'seam', 'end', 'refused', 'cut', 'move', 'wait', 'shoot'] as const
export type ToneKind = (typeof toneKinds)[number]

/** One note of a tone: its pitch, when it begins after the tone's own start, and for how long it sounds. */
export interface Note {
  readonly hz: number
  readonly startMs: number
  readonly lengthMs: number
}

/** Equal temperament at the standard pitch: 440 Hz for A4, note 69 (ISO 16; note numbers from memory). */
function pitchHz(note: number): number {
  return 440 * 2 ** ((note - 69) / 12)
}

/** Notes one after the other, each as [note number, length in ms], with a short gap between them. */
function inTurn(...notes: readonly (readonly [note: number, lengthMs: number])[]): readonly Note[] {
  let startMs = 0
  return notes.map(([note, lengthMs]) => {
    const one = { hz: pitchHz(note), startMs, lengthMs }
    startMs += lengthMs + 20
    return one
  })
}

/**
 * What good news sounds like rises, what asks for a look falls, and no two sound alike, so that an ear alone can
 * tell them. A press is the shortest: it is heard hundreds of times.
 */
const tones: Readonly<Record<ToneKind, readonly Note[]>> = {
  press: inTurn([84, 45]),
  tenth: inTurn([84, 60], [91, 90]),
  seam: inTurn([76, 120], [79, 120], [84, 240]),
  end: inTurn([72, 140], [76, 140], [79, 140], [84, 320]),
  refused: inTurn([69, 180], [63, 280]),
  cut: inTurn([70, 140], [65, 140], [70, 140], [65, 140]),
  move: inTurn([72, 90]),
  wait: inTurn([67, 90]),
  shoot: inTurn([79, 140]),
}

/** The notes of a tone, in order. */
export function toneOf(kind: ToneKind): readonly Note[] {
  return tones[kind]
}

/** How long a tone sounds in all, in ms. */
export function toneLengthMs(kind: ToneKind): number {
  return Math.max(...toneOf(kind).map(({ startMs, lengthMs }) => startMs + lengthMs))
}

/** What a frame that was just kept sounds like; the most telling of what it ends. */
export function toneOfFrame(of: {
  /** The mark that comes next, counted from 0: how many marks have been come to. */
  readonly nextMark: number
  readonly framesPerTurn: number
  readonly isDone: boolean
}): ToneKind {
  if (of.isDone) return 'end'
  if (of.nextMark === of.framesPerTurn) return 'seam'
  return of.nextMark > 0 && of.nextMark % 10 === 0 ? 'tenth' : 'press'
}
