import * as z from 'zod'
import { findClient } from '../../db/clients.ts'
import { familyNames } from '../../db/families.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { type ListedProduct, takeProductList } from '../../db/productImport.ts'
import { type Product, type ProductDraft, productsByCode } from '../../db/products.ts'
import { inOneTransaction } from '../../db/statement.ts'
import { isSizeColumn, matchColumns, type ProductColumn, productColumns } from '../trade/productColumns.ts'
import {
  type BadRow,
  type GoodRow,
  judgeRows,
  type ProductList,
  parseProductList,
} from '../trade/productList.ts'
import { guessDecimalMark } from '../trade/productRow.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, idOf, router, text } from './kit.ts'

const ListText = z
  .string()
  .min(1, 'This file is empty. Pick another one.')
  .max(20_000_000, 'This file is over 20 MB. Split it, or take columns out that nobody needs.')

const column = z.object({
  index: z.int().min(0),
  unit: z.enum(['mm', 'cm', 'in', 'g', 'kg']).nullable(),
})

/** A list with how it is to be read: which column is what, and what its numbers mean. */
const ReadAs = z.object({
  clientId: idOf('client'),
  text: ListText,
  columns: z.partialRecord(z.enum(productColumns), column),
  sizeUnit: z.enum(['mm', 'cm', 'in']),
  massUnit: z.enum(['g', 'kg']),
  decimalMark: z.enum(['.', ',']),
})

const firstShown = 50
const badShown = 2000

/** Taking a client's product list from a CSV file: read it, look at what it would do, take it. */
export const productImportCalls = router({
  /** The columns of the file and what they are likely to be. */
  read: call.input(z.object({ text: ListText })).query(({ input }) => {
    const list = parseProductList(input.text)
    const columns = matchColumns(list.headers)
    return {
      delimiter: list.delimiter,
      headers: list.headers,
      rows: list.rows.length,
      /** The first cells of each column, so that a person can tell what it holds. */
      samples: list.headers.map((_, index) => samplesOf(list, index)),
      columns,
      decimalMark: guessDecimalMark(numberCells(list, columns)),
    }
  }),

  /** What taking the list would do; nothing is written. */
  preview: call.input(ReadAs).query(({ ctx, input }) => {
    const { good, bad } = judged(ctx.db, input)
    const known = new Set(familyNames(ctx.db, input.clientId).map(({ name }) => name))
    const families = new Set(good.flatMap(({ row }) => row.product.family ?? []))
    return {
      rows: good.length + new Set(bad.map(({ line }) => line)).size,
      ...countsOf(good),
      newFamilies: [...families].filter((name) => !known.has(name)),
      bad: bad.slice(0, badShown),
      badRows: new Set(bad.map(({ line }) => line)).size,
      first: good.slice(0, firstShown).map(shown),
    }
  }),

  /** Takes the good rows, in one transaction. */
  take: call.input(ReadAs.extend({ fileName: text('The file’s name', 255) })).mutation(({ ctx, input }) =>
    inOneTransaction(ctx.db, () => {
      const { good } = judged(ctx.db, input)
      const changing = good.filter(({ does }) => does !== 'unchanged')
      takeProductList(
        ctx,
        input.clientId,
        input.fileName,
        changing.map(({ listed }) => listed),
      )
      return countsOf(good)
    }),
  ),
})

type Does = 'added' | 'updated' | 'unchanged'

interface Judged {
  readonly row: GoodRow
  readonly listed: ListedProduct
  readonly does: Does
}

function judged(
  db: Db,
  input: z.output<typeof ReadAs>,
): { readonly good: readonly Judged[]; readonly bad: readonly BadRow[] } {
  if (!findClient(db, input.clientId)) {
    throw new Refusal('no-client', 'This client is not in the studio. Choose one of the list.', {
      field: 'clientId',
    })
  }
  const { rows } = parseProductList(input.text)
  const { sizeUnit, massUnit, decimalMark } = input
  const { good, bad } = judgeRows(rows, input.columns, { sizeUnit, massUnit, mark: decimalMark })
  const known = productsByCode(db, input.clientId)
  const familyIds = new Map(familyNames(db, input.clientId).map(({ id, name }) => [name, id]))
  return { good: good.map((row) => judgedRow(row, known.get(row.product.code), familyIds)), bad }
}

function judgedRow(
  row: GoodRow,
  before: Product | undefined,
  familyIds: ReadonlyMap<string, Id<'family'>>,
): Judged {
  const { family } = row.product
  const familyId = family === null ? (before?.familyId ?? null) : (familyIds.get(family) ?? null)
  const draft = { ...mergedDraft(row, before), familyId }
  const listed = { before, draft, familyName: family }
  if (!before) return { row, listed, does: 'added' }
  const isNewFamily = family !== null && !familyIds.has(family)
  const differs =
    before.archivedAt !== null ||
    isNewFamily ||
    Object.entries(draft).some(([key, value]) => before[key as keyof ProductDraft] !== value)
  return { row, listed, does: differs ? 'updated' : 'unchanged' }
}

/** What the row says goes before what is known; where it says nothing, what is known stays. */
function mergedDraft({ product, says }: GoodRow, before: Product | undefined): ProductDraft {
  const saysDiameter = says.has('diameter')
  const saysPlan = says.has('plan') || saysDiameter
  return {
    familyId: null,
    code: product.code,
    name: before && !says.has('name') ? before.name : product.name,
    variant: product.variant ?? before?.variant ?? null,
    widthUm: product.widthUm ?? before?.widthUm ?? null,
    depthUm: product.depthUm ?? before?.depthUm ?? null,
    heightUm: product.heightUm ?? before?.heightUm ?? null,
    plan: before && !saysPlan ? before.plan : product.plan,
    sweptUm: before?.sweptUm ?? null,
    massG: product.massG ?? before?.massG ?? null,
    standG: before?.standG ?? null,
    finish: before && !says.has('finish') ? before.finish : product.finish,
    gtin: product.gtin ?? before?.gtin ?? null,
    valueMinor: before?.valueMinor ?? null,
    startPose: before?.startPose ?? null,
    handlingNote: before?.handlingNote ?? null,
  }
}

function countsOf(good: readonly Judged[]): Record<Does, number> {
  const counts = { added: 0, updated: 0, unchanged: 0 }
  for (const { does } of good) counts[does] += 1
  return counts
}

function shown({ row, listed: { draft }, does }: Judged) {
  const { code, name, variant, plan, massG, finish } = draft
  return {
    line: row.line,
    does,
    code,
    name,
    variant,
    family: row.product.family,
    widthMm: mmOf(draft.widthUm),
    depthMm: mmOf(draft.depthUm),
    heightMm: mmOf(draft.heightUm),
    plan,
    massG,
    finish,
  }
}

function mmOf(um: number | null): number | null {
  return um === null ? null : um / 1000
}

function samplesOf(list: ProductList, index: number): readonly string[] {
  const samples: string[] = []
  for (const { cells } of list.rows) {
    const cell = cells[index]?.trim() ?? ''
    if (cell !== '') samples.push(cell.slice(0, 60))
    if (samples.length === 3) break
  }
  return samples
}

function numberCells(list: ProductList, columns: ReturnType<typeof matchColumns>): readonly string[] {
  const indexes = Object.entries(columns).flatMap(([name, match]) =>
    match && (name === 'mass' || isSizeColumn(name as ProductColumn)) ? [match.index] : [],
  )
  return list.rows.flatMap(({ cells }) => indexes.map((index) => cells[index] ?? ''))
}
