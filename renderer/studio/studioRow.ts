import type { Answers, Asks } from '../../main/api/types.ts'

/** The studio's own row, as the studio gives it. */
export type StudioRow = Answers['studio']['one']['studio']

export type StudioChange = Asks['studio']['change']
