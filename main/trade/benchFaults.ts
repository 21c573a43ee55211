import type { FaultKind } from './takes.ts'

/** What can be done about a fault: go back, void the one frame, start over, or go on. */
export type FaultAct = 'back' | 'void' | 'again' | 'go on'

/** What to look at, and the acts to choose from: what is mostly right comes first. */
export interface FaultRule {
  readonly whatToDo: string
  readonly acts: readonly FaultAct[]
}

/** What to do next at the bench, by the kind of fault. Common practice, no published source. */
export const faultRules: Readonly<Record<FaultKind, FaultRule>> = {
  flicker: {
    whatToDo:
      'One frame came out lighter or darker. Look whether the lamp had recovered and the lens holds its aperture, then shoot the frame again.',
    acts: ['void', 'back', 'go on'],
  },
  bump: {
    whatToDo:
      'Something was knocked. Where product, camera and lamps still stand as they did, go back to this mark; where one of them moved, start over.',
    acts: ['back', 'again', 'go on'],
  },
  'off centre': {
    whatToDo:
      'The product does not turn about its axis, in this frame and in all before it. Centre it again and start over.',
    acts: ['again', 'go on'],
  },
  'missed step': {
    whatToDo:
      'The platter does not stand at the mark that was counted. Read the tape at the pointer and go back to the mark it shows.',
    acts: ['back', 'void', 'go on'],
  },
  focus: {
    whatToDo:
      'The lens is not where it was focused. Focus again as written down; go back to the last sharp frame, or start over where none is certain.',
    acts: ['back', 'again', 'go on'],
  },
  dust: {
    whatToDo:
      'Dust or a fibre lies on the product. Blow it off without touching the product; what was shot with it is retouched, or shot again from here.',
    acts: ['go on', 'void', 'back'],
  },
  'light change': {
    whatToDo:
      'The light is not as it was. Bring it back to what is written down; frames from before and after match only where it is the same, else start over.',
    acts: ['again', 'back', 'go on'],
  },
  'product moved': {
    whatToDo:
      'The product stands differently on the platter. The turn does not close any more: fix it, centre it and start over.',
    acts: ['again', 'back', 'go on'],
  },
}
