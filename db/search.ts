import type { Db } from './open.ts'
import { prepared } from './statement.ts'

export type HitKind = 'client' | 'product' | 'job' | 'quote' | 'invoice'

/** Something the search box found. `jobId` is the job that a quote or invoice belongs to. */
export interface Hit {
  readonly kind: HitKind
  readonly id: number
  readonly label: string
  readonly detail: string
  readonly jobId: number | null
}

const hitsShown = 12
/** A text that stands in everything is not ranked to the last row: the newest of so many are. */
const hitsRanked = 500
/** Where a short word must be looked for row by row, so many of the newest rows are. */
const hitsSifted = 2000
const shortestForTrigrams = 3
const shortWordsHeeded = 4

/**
 * Finds what the text stands in: clients, products, jobs, quotes, invoices. Every word must occur; a label that
 * is the text comes first, then one that begins with it, then the best and newest. A text without a word of
 * three letters finds the beginnings of names, codes and numbers.
 */
export function search(db: Db, text: string): readonly Hit[] {
  const words = text.trim().split(/\s+/u).filter(Boolean)
  if (words.length === 0) return []
  const long = words.filter((word) => lettersOf(word) >= shortestForTrigrams)
  return long.length === 0 ? beginnings(db, text.trim()) : occurrences(db, text.trim(), words, long)
}

function lettersOf(word: string): number {
  return [...word].length
}

/** A word as an FTS5 string, in which nothing is syntax: https://sqlite.org/fts5.html#full_text_query_syntax */
function ftsString(word: string): string {
  return `"${word.replaceAll('"', '""')}"`
}

function occurrences(
  db: Db,
  text: string,
  words: readonly string[],
  long: readonly string[],
): readonly Hit[] {
  const short = words.filter((word) => lettersOf(word) < shortestForTrigrams).slice(0, shortWordsHeeded)
  const holdsShort = short.map((_, index) => `AND instr(text, lower(@short${index})) > 0`).join(' ')
  const candidates = prepared<object, Hit>(
    db,
    `WITH matching AS MATERIALIZED (
       SELECT rowid, label, detail, kind, ref, lower(label || ' ' || detail) AS text FROM search WHERE search MATCH @match
       ORDER BY rowid DESC LIMIT ${short.length > 0 ? hitsSifted : hitsRanked})
     SELECT kind, CAST(ref AS INTEGER) AS id, label, detail,
       CASE kind WHEN 'quote' THEN (SELECT job_id FROM quote WHERE id = ref)
         WHEN 'invoice' THEN (SELECT job_id FROM invoice WHERE id = ref) END AS jobId
     FROM matching WHERE true ${holdsShort}
     ORDER BY lower(label) = lower(@text) DESC, substr(lower(label), 1, length(@text)) = lower(@text) DESC,
       instr(lower(label), lower(@text)) > 0 DESC, length(label), rowid DESC LIMIT ${hitsShown}`,
  )
  return candidates.all({
    match: long.map(ftsString).join(' AND '),
    text,
    ...Object.fromEntries(short.map((word, index) => [`short${index}`, word])),
  })
}

/** One past every text that begins with the prefix, for a range of an index. */
const lastCharacter = '\u{10FFFF}'

function beginnings(db: Db, prefix: string): readonly Hit[] {
  const range = { from: prefix, to: `${prefix}${lastCharacter}`, limit: hitsShown }
  const upper = { ...range, from: prefix.toUpperCase(), to: `${prefix.toUpperCase()}${lastCharacter}` }
  const clients = prepared<object, Hit>(
    db,
    `SELECT 'client' AS kind, id, name AS label, ifnull(city, '') AS detail, NULL AS jobId FROM client
     WHERE archived_at IS NULL AND name COLLATE NOCASE >= @from AND name COLLATE NOCASE < @to ORDER BY name COLLATE NOCASE LIMIT @limit`,
  ).all(range)
  const products = prepared<object, Hit>(
    db,
    `SELECT 'product' AS kind, id, code AS label, name AS detail, NULL AS jobId FROM product
     WHERE archived_at IS NULL AND code COLLATE NOCASE >= @from AND code COLLATE NOCASE < @to ORDER BY code COLLATE NOCASE LIMIT @limit`,
  ).all(range)
  const jobs = prepared<object, Hit>(
    db,
    `SELECT 'job' AS kind, id, number AS label, title AS detail, NULL AS jobId FROM job
     WHERE number >= @from AND number < @to ORDER BY number DESC LIMIT @limit`,
  ).all(upper)
  const invoices = prepared<object, Hit>(
    db,
    `SELECT 'invoice' AS kind, id, number AS label, ifnull(order_number, '') AS detail, job_id AS jobId FROM invoice
     WHERE number >= @from AND number < @to ORDER BY number DESC LIMIT @limit`,
  ).all(upper)
  return [...clients, ...products, ...jobs, ...invoices].slice(0, hitsShown)
}
