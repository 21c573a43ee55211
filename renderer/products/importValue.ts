import type { Answers, Asks } from '../../main/api/types.ts'

/** A list as the studio has read it: its headers, first cells and likely columns. */
export type ReadList = Answers['productImport']['read']

/** How the person wants it read. */
export type ReadAs = Omit<Asks['productImport']['preview'], 'clientId' | 'text'>
