import type { Db } from '../../db/open.ts'

/**
 * Runs the work and gives, for every SELECT, UPDATE, INSERT or DELETE it prepared, the steps of its query plan that
 * read a table from end to end without an index made for that. An index over what is open (jobs, quotes, invoices,
 * drafts) or here (samples) reads only that; the newest takes are read up to a limit.
 * See https://sqlite.org/eqp.html: a step that begins with SCAN visits every row.
 */
export async function scansDuring(db: Db, work: () => Promise<unknown>): Promise<readonly string[]> {
  const prepare = db.prepare.bind(db)
  const texts = new Set<string>()
  db.prepare = ((text: string) => {
    texts.add(text)
    return prepare(text)
  }) as typeof db.prepare
  try {
    await work()
  } finally {
    db.prepare = prepare as typeof db.prepare
  }
  if (texts.size === 0) throw new Error('Nothing was prepared: the statements were known already.')
  return [...texts].flatMap((text) => planOf(prepare, text))
}

const fine =
  /USING (COVERING )?INDEX (open_jobs|job_promised|sample_here|take_by_start|invoice_account_open|invoice_drafts|quote_open)|VIRTUAL TABLE|CONSTANT ROW|^SCAN (matching|studio|pace|handling|bench|opening|closure|tax_rate|term|client|device|rig_revision)\b/u

function planOf(prepare: Db['prepare'], text: string): readonly string[] {
  // The plan of a plain INSERT names child tables that are read only while a deferred reference is broken.
  if (!/^\s*(SELECT|WITH|UPDATE|DELETE|INSERT[^;]*SELECT)/iu.test(text)) return []
  const plan = prepare(
    `EXPLAIN QUERY PLAN ${text.replace(/[?@]\w*|(?<=[\s=(<>]):[a-z]\w*/gu, "'1'")}`,
  ).all() as { detail: string }[]
  return plan
    .map(({ detail }) => detail)
    .filter((detail) => detail.startsWith('SCAN') && !fine.test(detail))
    .map((detail) => `${detail}: ${text}`)
}
