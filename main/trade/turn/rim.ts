import { formatLength } from '../length.ts'
import { Refusal } from '../refusal.ts'
import { closing } from './closing.ts'
import { checkFrames, checkLength } from './guard.ts'

/** How a rim is known. Where there is a reading, the reading counts. */
export type RimSource =
  | { readonly by: 'reading'; readonly readingUm10: number }
  | { readonly by: 'diameter'; readonly diameterUm10: number }
  | { readonly by: 'diameter and tape'; readonly diameterUm10: number; readonly tapeUm10: number }

/**
 * The rim in whole tenths of a micrometre: the tape's own reading, or π × diameter, or π × (diameter + tape)
 * since a tape laid on a rim reads its mid-line (the usual assumption of bending, from memory).
 */
export function rimUm10(source: RimSource): number {
  switch (source.by) {
    case 'reading':
      checkLength(source.readingUm10, 'The reading', 'reading')
      return source.readingUm10
    case 'diameter':
      checkLength(source.diameterUm10, 'The diameter', 'diameter')
      return Math.round(Math.PI * source.diameterUm10)
    case 'diameter and tape':
      checkLength(source.diameterUm10, 'The diameter', 'diameter')
      checkThickness(source.tapeUm10, source.diameterUm10, 'The tape', 'tape')
      return Math.round(Math.PI * (source.diameterUm10 + source.tapeUm10))
  }
}

/**
 * The length of a paper strip that closes on the rim on which a tape gave this reading: each reads its own
 * mid-line, so the thinner one is shorter by π × the difference, in whole tenths of a micrometre.
 */
export function stripUm10(readingUm10: number, tapeUm10: number, paperUm10: number): number {
  checkLength(readingUm10, 'The reading', 'reading')
  checkThickness(tapeUm10, readingUm10, 'The tape', 'tape')
  checkThickness(paperUm10, readingUm10, 'The paper', 'paper')
  return Math.round(readingUm10 - Math.PI * (tapeUm10 - paperUm10))
}

/** A step as it was given: along the rim, in divisions of the tape, as an angle, or by the frames of a turn. */
export type StepGiven =
  | { readonly in: 'mm'; readonly stepUm10: number }
  | { readonly in: 'divisions'; readonly divisions: number }
  | { readonly in: 'degrees'; readonly stepMdeg: number }
  | { readonly in: 'frames'; readonly frames: number }

/** One step in all its forms, and how its turn closes. */
export interface StepForms {
  /** Not always whole. */
  readonly stepUm10: number
  readonly divisions: number
  readonly degrees: number
  /** Rim ÷ step; whole only where the turn closes. */
  readonly framesPerTurn: number
  /** The whole number of frames whose even step is nearest. */
  readonly nearestFrames: number
  readonly closes: boolean
  /** What is left of the turn after the last full step, 0 where it closes. */
  readonly remainderUm10: number
  readonly remainderDeg: number
  readonly remainderPart: number
}

/**
 * A step in mm, divisions, degrees and frames per turn, from any one of them. Refuses a step over half a turn.
 * Whether the turn closes is decided in whole tenths of a micrometre or thousandths of a degree.
 */
export function stepForms(rimLengthUm10: number, divisionUm10: number, given: StepGiven): StepForms {
  checkLength(rimLengthUm10, 'The rim', 'rim')
  checkLength(divisionUm10, 'The division', 'division')
  const { stepUm10, perTurn, left } = turnBy(rimLengthUm10, divisionUm10, given)
  const full = Math.floor(perTurn)
  return {
    stepUm10,
    divisions: stepUm10 / divisionUm10,
    degrees: 360 / perTurn,
    framesPerTurn: perTurn,
    nearestFrames: 2 * left >= 1 ? full + 1 : full,
    closes: left === 0,
    remainderUm10: left * stepUm10,
    remainderDeg: (left * 360) / perTurn,
    remainderPart: left,
  }
}

interface Turn {
  readonly stepUm10: number
  readonly perTurn: number
  /** The part of a step that is left over, exactly 0 where none is. */
  readonly left: number
}

function turnBy(rim: number, division: number, given: StepGiven): Turn {
  switch (given.in) {
    case 'frames':
      checkFrames(given.frames, 'The number of frames', 'frames', 2)
      return { stepUm10: rim / given.frames, perTurn: given.frames, left: 0 }
    case 'degrees': {
      const { stepMdeg } = given
      checkAngle(stepMdeg)
      return {
        stepUm10: (rim * stepMdeg) / 360_000,
        perTurn: 360_000 / stepMdeg,
        left: (360_000 % stepMdeg) / stepMdeg,
      }
    }
    case 'mm':
      return turnOf(rim, given.stepUm10)
    case 'divisions': {
      const stepUm10 = given.divisions * division
      if (!Number.isSafeInteger(stepUm10) || stepUm10 <= 0) {
        throw new Refusal(
          'bad-divisions',
          `A step of ${given.divisions} divisions of ${formatLength(division)} cannot be set. Enter a number over 0, such as 5 or 2.5.`,
          { field: 'divisions' },
        )
      }
      return turnOf(rim, stepUm10)
    }
  }
}

function turnOf(rim: number, stepUm10: number): Turn {
  return { left: closing(rim, stepUm10).remainderPart, stepUm10, perTurn: rim / stepUm10 }
}

function checkAngle(mdeg: number): void {
  if (!Number.isSafeInteger(mdeg) || mdeg <= 0 || mdeg > 180_000) {
    throw new Refusal(
      'bad-angle',
      `The step is ${mdeg / 1000}°. Enter an angle over 0° and up to 180°, to a thousandth of a degree.`,
      { field: 'degrees' },
    )
  }
}

/** Thin against what it lies on; 0 leaves it out of account. */
function checkThickness(um10: number, lengthUm10: number, what: string, field: string): void {
  if (!Number.isSafeInteger(um10) || um10 < 0 || 10 * um10 > lengthUm10) {
    const shown = Number.isSafeInteger(um10) ? formatLength(um10) : String(um10)
    throw new Refusal(
      'bad-thickness',
      `${what} is ${shown} thick. Enter its thickness, 0 or more, such as 0.5 mm.`,
      { field },
    )
  }
}
