import { type Writing, writeEvent } from './events.ts'
import { addFamily, familyNames } from './families.ts'
import type { Id } from './ids.ts'
import { estimateJobsOf } from './productEffects.ts'
import { insertProduct, type Product, type ProductDraft, updateProduct } from './products.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** A product of a list as it is to stand in the studio. */
export interface ListedProduct {
  /** The product of that code that the client has already. */
  readonly before: Product | undefined
  readonly draft: ProductDraft
  /** A family that the list names; one that the client does not have yet is added. Null leaves it as it is. */
  readonly familyName: string | null
}

/**
 * Takes a product list into a client's products: all of it or nothing. A product of a known code is changed
 * and never doubled; one that was off the list comes back.
 */
export function takeProductList(
  writing: Writing,
  clientId: Id<'client'>,
  fileName: string,
  products: readonly ListedProduct[],
): void {
  inOneTransaction(writing.db, () => {
    const familyIds = new Map(familyNames(writing.db, clientId).map(({ id, name }) => [name, id]))
    const familyIdOf = (name: string): Id<'family'> => {
      const known = familyIds.get(name)
      if (known !== undefined) return known
      const plain = { name, rigRevisionId: null, settingsId: null, note: null }
      const added = addFamily(writing, clientId, plain)
      familyIds.set(name, added)
      return added
    }
    for (const { before, draft, familyName } of products) {
      const familyId = familyName === null ? draft.familyId : familyIdOf(familyName)
      takeOne(writing, clientId, fileName, before, { ...draft, familyId })
    }
    estimateJobsOf(
      writing,
      products.flatMap(({ before }) => before?.id ?? []),
    )
  })
}

function takeOne(
  writing: Writing,
  clientId: Id<'client'>,
  fileName: string,
  before: Product | undefined,
  draft: ProductDraft,
): void {
  if (before) {
    updateProduct(writing.db, before.id, draft)
    prepared<[number]>(writing.db, 'UPDATE product SET archived_at = NULL WHERE id = ?').run(before.id)
  }
  writeEvent(writing, {
    subject: 'product',
    subjectId: before?.id ?? insertProduct(writing, clientId, draft),
    clientId,
    what: before ? 'product changed from a list' : 'product added from a list',
    detail: before ? { fileName, before, after: draft } : { fileName, code: draft.code, name: draft.name },
  })
}
