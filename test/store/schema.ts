import Database from 'better-sqlite3'
import { migrations } from '../../db/migrations/index.ts'
import type { Db } from '../../db/open.ts'

/** The whole schema in memory, with foreign keys off: for tests of what a row can break by itself. */
export function schemaOnly(): Db {
  const db = new Database(':memory:')
  for (const sql of migrations) db.exec(sql)
  db.pragma('foreign_keys = OFF')
  return db
}

/** The expressions of all CHECK constraints of a table, as SQLite names them in its messages. */
export function checksOf(createSql: string): readonly string[] {
  const checks: string[] = []
  let from = createSql.indexOf('CHECK (')
  while (from >= 0) {
    const open = createSql.indexOf('(', from)
    let depth = 0
    let at = open
    do {
      if (createSql[at] === '(') depth += 1
      if (createSql[at] === ')') depth -= 1
      at += 1
    } while (depth > 0)
    checks.push(createSql.slice(open + 1, at - 1))
    from = createSql.indexOf('CHECK (', at)
  }
  return checks
}

export type Cell = string | number | null
export type Row = Readonly<Record<string, Cell>>

interface Column {
  readonly name: string
  readonly type: string
  readonly notnull: 0 | 1
  readonly dflt_value: string | null
  readonly pk: number
}

/** How a CHECK on one column is met and how it is broken, told by the form of its expression. */
interface Rule {
  readonly form: RegExp
  readonly good: (match: RegExpMatchArray) => Cell
  readonly bad: (match: RegExpMatchArray) => Cell
}

const rules: readonly Rule[] = [
  { form: /^(\w+) = date\(\1\)$/, good: () => '2026-03-02', bad: () => '2026-02-30' },
  { form: /^(\w+) = strftime\(/, good: () => '2026-03-02T08:00:00.000Z', bad: () => '2026-03-02 08:00' },
  { form: /^length\(\w+\) = 64 AND/, good: () => 'a'.repeat(64), bad: () => 'A'.repeat(64) },
  { form: /^length\(\w+\) = 4 AND/, good: () => '1A2F', bad: () => '1a2f' },
  { form: /^length\(\w+\) = 3 AND/, good: () => 'EUR', bad: () => 'eur' },
  { form: /^length\(\w+\) = 2 AND/, good: () => 'DE', bad: () => 'de' },
  {
    form: /^length\(\w+\) >= (\d+)$/,
    good: ([, low]) => 'a'.repeat(Number(low)),
    bad: ([, low]) => 'a'.repeat(Number(low) - 1),
  },
  { form: /^length\(\w+\) IN \(8/, good: () => '96385074', bad: () => '9638507x' },
  { form: /^\w+ LIKE '%\/%'$/, good: () => 'image/png', bad: () => 'png' },
  { form: /^json_type\(/, good: () => '[]', bad: () => '{}' },
  { form: /^json_valid\(/, good: () => '{}', bad: () => '{' },
  { form: /^\w+ <> '' AND \w+ NOT LIKE/, good: () => 'a.jpg', bad: () => '../a.jpg' },
  { form: /^\w+ <> ''$/, good: () => 'text', bad: () => '' },
  { form: /^\w+ <> 0$/, good: () => 1, bad: () => 0 },
  {
    form: /^\w+ IN \('((?:[^']|'')+)'/,
    good: ([, first = '']) => first.replaceAll("''", "'"),
    bad: () => 'nonsense',
  },
  { form: /^\w+ IN \(0, 1\)$/, good: () => 0, bad: () => 2 },
  {
    form: /^\w+ BETWEEN (-?\d+) AND (-?\d+)$/,
    good: ([, low]) => Number(low),
    bad: ([, , high]) => Number(high) + 1,
  },
  { form: /^\w+ > (\d+)$/, good: ([, low]) => Number(low) + 1, bad: ([, low]) => Number(low) },
  { form: /^\w+ >= (\d+)$/, good: ([, low]) => Number(low), bad: ([, low]) => Number(low) - 1 },
  { form: /^id = 1$/, good: () => 1, bad: () => 2 },
]

function ruleFor(check: string): readonly [Rule, RegExpMatchArray] | undefined {
  for (const rule of rules) {
    const match = check.match(rule.form)
    if (match) return [rule, match]
  }
  return undefined
}

/** The column a CHECK of one of the known forms is about, and a value that breaks it. */
export function breakOf(check: string): Row | undefined {
  const found = ruleFor(check)
  const column = check.match(/^(?:length\(|json_valid\(|json_type\()?(\w+)/)?.[1]
  return found && column ? { [column]: found[0].bad(found[1]) } : undefined
}

/** A row that keeps every rule on single columns: required columns alone, with the plainest value. */
export function plainRow(db: Db, table: string, createSql: string): Row {
  const columns = db.prepare(`SELECT * FROM pragma_table_info('${table}')`).all() as readonly Column[]
  const checks = checksOf(createSql)
  const row: Record<string, Cell> = {}
  for (const { name, type, notnull, dflt_value, pk } of columns) {
    // SQLite gives an id by itself.
    if ((notnull === 0 && pk === 0) || dflt_value !== null || name === 'id') continue
    const check = checks.find(
      (one) => new RegExp(`^(?:length\\(|json_valid\\(|json_type\\()?${name}\\b`).test(one) && ruleFor(one),
    )
    const found = check === undefined ? undefined : ruleFor(check)
    row[name] = found ? found[0].good(found[1]) : type === 'INTEGER' ? 1 : 'text'
  }
  return row
}

export function insert(db: Db, table: string, row: Row): void {
  const names = Object.keys(row)
  if (names.length === 0) {
    db.exec(`INSERT INTO ${table} DEFAULT VALUES`)
    return
  }
  db.prepare(`INSERT INTO ${table} (${names.join(', ')}) VALUES (${names.map(() => '?').join(', ')})`).run(
    ...Object.values(row),
  )
}
