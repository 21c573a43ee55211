import { parentPort } from 'node:worker_threads'
import { framePartsOf } from '../trade/check/silhouette.ts'
import { usualWhiteLimits, type WhiteTest, whiteOf } from '../trade/check/white.ts'
import { type CheckPicture, checkPicture } from './checkPicture.ts'

// A thread of its own: looks at single frames for the helps before and beside a take.

/** A frame of a folder: its files, and what changes when they are written anew. */
export interface AidFrame {
  readonly folder: string
  readonly files: readonly string[]
  readonly stamp: string
}

/** What of a frame is shown beside any answer about it. */
export interface LookedAt {
  readonly file: string
  /** Why it cannot be read; null where it can. */
  readonly trouble: string | null
  /** The picture as a data URL; null where it cannot be read. */
  readonly pictureUrl: string | null
}

/** What the thread is asked. */
export type AidAsk = { readonly ask: 'white'; readonly frame: AidFrame; readonly whiteCode: number }

/** What it answers, by what was asked. A part is null where a frame that it needs cannot be read. */
export interface AidAnswers {
  readonly white: LookedAt & { readonly white: WhiteTest | null }
}

export interface AidAsked {
  readonly id: number
  readonly ask: AidAsk
}

export type AidTold =
  | { readonly id: number; readonly answer: AidAnswers[AidAsk['ask']] }
  | { readonly id: number; readonly failed: string }

/** The last frames looked at stay: eight quick ones, and what they are compared with. */
const mostKept = 12
const kept = new Map<string, Promise<CheckPicture>>()

/** A frame, decoded once for as long as its files stay as they are. */
function pictureOf({ folder, files, stamp }: AidFrame): Promise<CheckPicture> {
  const key = [folder, stamp, ...files].join('\n')
  const picture = kept.get(key) ?? checkPicture(folder, files)
  kept.delete(key)
  kept.set(key, picture)
  for (const oldest of kept.keys()) {
    if (kept.size <= mostKept) break
    kept.delete(oldest)
  }
  return picture
}

function lookedAt({ facts, viewing }: CheckPicture): LookedAt {
  return {
    file: facts.file,
    trouble: facts.trouble?.sentence ?? null,
    pictureUrl: viewing && `data:image/jpeg;base64,${Buffer.from(viewing).toString('base64')}`,
  }
}

async function white({ frame, whiteCode }: Extract<AidAsk, { ask: 'white' }>): Promise<AidAnswers['white']> {
  const picture = await pictureOf(frame)
  const { small } = picture
  const parts = small && framePartsOf(small)
  const test = small && whiteOf(small, parts?.partAt ?? (() => 'none'), { ...usualWhiteLimits, whiteCode })
  return { ...lookedAt(picture), white: test }
}

async function answer(ask: AidAsk): Promise<AidAnswers[AidAsk['ask']]> {
  switch (ask.ask) {
    case 'white':
      return white(ask)
  }
}

parentPort?.on('message', async ({ id, ask }: AidAsked) => {
  try {
    parentPort?.postMessage({ id, answer: await answer(ask) } satisfies AidTold)
  } catch (error) {
    parentPort?.postMessage({ id, failed: error instanceof Error ? String(error.stack) : String(error) })
  }
})
