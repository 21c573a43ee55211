/** Where a client's sample is, as far as the studio knows. */
export type SampleState = 'expected' | 'in' | 'missing' | 'wrong' | 'broken' | 'back' | 'kept' | 'destroyed'

/** What can happen to a sample. */
export type SampleMove = 'arrive' | 'shift' | 'miss' | 'wrong' | 'break' | 'sendBack' | 'keep' | 'destroy'

interface MoveRule {
  /** For the history: a short past-tense phrase. */
  readonly what: string
  readonly from: readonly SampleState[]
  readonly to: SampleState
  /** It has left the client's custody chain with us. */
  readonly isGone: boolean
}

const here = ['in', 'wrong', 'broken'] as const

/** Each move, the states from which it can happen, and the state it leads to. */
export const sampleMoves: Readonly<Record<SampleMove, MoveRule>> = {
  // A right product may follow a wrong or broken one.
  arrive: {
    what: 'samples arrived',
    from: ['expected', 'missing', 'wrong', 'broken'],
    to: 'in',
    isGone: false,
  },
  shift: { what: 'samples put elsewhere', from: ['in'], to: 'in', isGone: false },
  miss: { what: 'samples missing', from: ['expected', ...here], to: 'missing', isGone: false },
  wrong: {
    what: 'wrong products arrived',
    from: ['expected', 'missing', 'in', 'broken'],
    to: 'wrong',
    isGone: false,
  },
  break: {
    what: 'samples broken',
    from: ['expected', 'missing', 'in', 'wrong'],
    to: 'broken',
    isGone: false,
  },
  sendBack: { what: 'samples sent back', from: here, to: 'back', isGone: true },
  keep: { what: 'samples kept', from: here, to: 'kept', isGone: true },
  destroy: { what: 'samples destroyed', from: here, to: 'destroyed', isGone: true },
}

/** The state in a sentence: 'KN-01 is on the shelf'. */
export const sampleStateWords: Readonly<Record<SampleState, string>> = {
  expected: 'not here yet',
  in: 'on the shelf',
  missing: 'missing',
  wrong: 'the wrong product',
  broken: 'broken',
  back: 'back with the client',
  kept: 'kept by the studio',
  destroyed: 'destroyed',
}

/** The moves that every one of these samples allows. */
export function movesAllowed(states: readonly SampleState[]): readonly SampleMove[] {
  if (states.length === 0) return []
  return (Object.keys(sampleMoves) as SampleMove[]).filter((move) =>
    states.every((state) => sampleMoves[move].from.includes(state)),
  )
}
