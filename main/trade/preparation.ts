import { type Finish, finishes } from './product.ts'

/** Before the first frame, or once the product leaves the platter. */
export const moments = ['before', 'after'] as const
export type Moment = (typeof moments)[number]

/** What the studio does to products of one finish, in its own words, in order. */
export interface Preparation {
  readonly finish: Finish
  readonly before: readonly string[]
  readonly after: readonly string[]
}

const fetchStand = 'Fetch the stand or prop that the start pose needs.'
const labels = 'Take loose labels and stickers off, or turn them as the brief says.'
const gloves = 'Put on clean gloves.'
const air = 'Blow the dust off with air.'
const putAway = 'Pack it as it came, with its labels, and put it back in its place.'

/**
 * The lists that a new studio starts from, to be made its own under Studio. Common practice, no published source.
 */
export const startingPreparation: readonly Preparation[] = [
  {
    finish: 'matt',
    before: [fetchStand, labels, 'Brush the dust off with a soft, dry brush.'],
    after: [putAway],
  },
  {
    finish: 'satin',
    before: [fetchStand, labels, gloves, 'Wipe it with a dry, lint-free cloth.', air],
    after: [putAway],
  },
  {
    finish: 'gloss',
    before: [
      fetchStand,
      labels,
      gloves,
      'Wipe it with a lint-free cloth; look along the edges for fingerprints.',
      air,
    ],
    after: ['Keep the gloves on until it is wrapped.', putAway],
  },
  {
    finish: 'mirror',
    before: [
      fetchStand,
      labels,
      gloves,
      'Wipe it with a lint-free cloth; look along the edges for fingerprints.',
      air,
      'Look for what it mirrors: camera, lamps, clothes, screens.',
    ],
    after: ['Keep the gloves on until it is wrapped.', putAway],
  },
  {
    finish: 'clear',
    before: [fetchStand, labels, gloves, 'Wipe it inside and outside with a lint-free cloth.', air],
    after: ['Keep the gloves on until it is wrapped.', putAway],
  },
  {
    finish: 'textile',
    before: [
      fetchStand,
      'Tuck labels and tags in, or take them off where the client allows it.',
      'Roll the lint off and brush the pile one way.',
      'Lay laces, straps and cords, and fix them so that they do not swing.',
      'Fill it so that it keeps its shape through the turn.',
    ],
    after: ['Take the filling and the fixings out.', putAway],
  },
]

/**
 * One list for what stands on the platter together: every step of every finish once, in the order of the finishes.
 */
export function preparationFor(
  lists: readonly Preparation[],
  standing: readonly Finish[],
): { readonly before: readonly string[]; readonly after: readonly string[] } {
  const here = finishes.flatMap((finish) =>
    standing.includes(finish) ? lists.filter((list) => list.finish === finish) : [],
  )
  return {
    before: [...new Set(here.flatMap(({ before }) => before))],
    after: [...new Set(here.flatMap(({ after }) => after))],
  }
}
