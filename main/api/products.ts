import * as z from 'zod'
import { attachmentById, keepFile } from '../../db/attachments.ts'
import { findClient } from '../../db/clients.ts'
import { findFamily } from '../../db/families.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { sizeLimitsMm } from '../../db/pace.ts'
import {
  addProduct,
  archiveProduct,
  changeProduct,
  findProduct,
  listProducts,
  type Product,
  type ProductDraft,
  productByCode,
  setPicture,
  spinsOfProduct,
} from '../../db/products.ts'
import { spinFacts } from '../../db/standing.ts'
import { checkedGtin } from '../trade/gtin.ts'
import { um10FromMm } from '../trade/length.ts'
import { pictureType } from '../trade/picture.ts'
import { finishes, plans, sizeClassOf, sweptWidthMm } from '../trade/product.ts'
import { Refusal } from '../trade/refusal.ts'
import { spinStation } from '../trade/standing.ts'
import { call, type InStudio, idOf, maybeText, page, router, text } from './kit.ts'

/** A picture larger than this is a scan or a raw file; a small one does to know a product by. */
const pictureMaxBytes = 8_000_000

/** A size in mm, from 0.1 mm to `mostMm`, kept to a thousandth. */
function sizeMm(what: string, mostMm = 10_000) {
  return z
    .number(`${what} is not a number. Enter it in mm, such as 80.5.`)
    .min(0.1, `${what} is under 0.1 mm. Measure it again.`)
    .max(mostMm, `${what} is over ${mostMm / 1000} m. Enter it in mm.`)
    .refine(
      (mm) => Number.isInteger(um10FromMm(mm, what) / 10),
      `${what} is finer than a thousandth of a millimetre. Round it first.`,
    )
    .nullable()
}

const ProductInput = z
  .object({
    familyId: idOf('family').nullable(),
    code: text('The product’s code', 60),
    name: text('The product’s name'),
    variant: maybeText(100),
    widthMm: sizeMm('The width'),
    depthMm: sizeMm('The depth'),
    heightMm: sizeMm('The height'),
    plan: z.enum(plans),
    sweptMm: sizeMm('The swept width', 20_000),
    massG: z
      .int('The mass is a whole number of grams.')
      .min(0, 'The mass is 0 g or more.')
      .max(2_000_000, 'The mass is over 2 t. Enter it in grams.')
      .nullable(),
    /** What stands on the platter with it. */
    standG: z
      .int('The mass of the stand is a whole number of grams.')
      .min(0, 'The mass of the stand is 0 g or more.')
      .max(2_000_000, 'The mass of the stand is over 2 t. Enter it in grams.')
      .nullable()
      .default(null),
    finish: z.enum(finishes),
    gtin: maybeText(40),
    valueMinor: z.int().min(0, 'The value is 0 or more.').nullable(),
    startPose: maybeText(200),
    handlingNote: maybeText(),
  })
  .refine((product) => product.plan !== 'measured' || product.sweptMm !== null, {
    message:
      'The swept width is missing. Measure twice the farthest point from the axis, or choose another plan.',
    path: ['sweptMm'],
  })

/** Products, with what the studio works out of their sizes. Lengths in mm. */
export const productCalls = router({
  list: call
    .input(
      z.object({
        clientId: idOf('client').nullable().default(null),
        familyId: idOf('family').nullable().default(null),
        text: z.string().max(100).default(''),
        archived: z.boolean().default(false),
        order: z.enum(['code', 'name', 'client', 'size', 'newest']).default('code'),
        descending: z.boolean().default(false),
        page,
      }),
    )
    .query(({ ctx, input }) => {
      const { lines, total } = listProducts(ctx.db, input, input.order, input.descending, input.page)
      const limits = sizeLimitsMm(ctx.db)
      return { lines: lines.map((line) => withSizes(line, limits)), total }
    }),

  one: call.input(z.object({ productId: idOf('product') })).query(({ ctx, input }) => {
    const product = knownProduct(ctx.db, input.productId)
    const client = findClient(ctx.db, product.clientId)
    const family = product.familyId === null ? undefined : findFamily(ctx.db, product.familyId)
    const picture = product.pictureId === null ? undefined : attachmentById(ctx.db, product.pictureId)
    return {
      product: withSizes(product, sizeLimitsMm(ctx.db)),
      clientName: client?.name ?? '',
      currency: client?.currency ?? '',
      family: family ?? null,
      picture: picture ? { sha256: picture.sha256, name: picture.name, bytes: picture.bytes } : null,
      spins: spinsOfProduct(ctx.db, product.id).map((spin) => ({
        ...spin,
        station: spinStation(spinFacts(ctx.db, spin.shootId)),
      })),
    }
  }),

  add: call
    .input(z.object({ clientId: idOf('client'), product: ProductInput }))
    .mutation(({ ctx, input }) => {
      if (!findClient(ctx.db, input.clientId)) throw noClient()
      const draft = draftOf(input.product)
      refuseTwin(ctx.db, input.clientId, draft.code, undefined)
      refuseStrangeFamily(ctx.db, input.clientId, draft.familyId)
      return { productId: addProduct(ctx, input.clientId, draft) }
    }),

  change: call
    .input(z.object({ productId: idOf('product'), product: ProductInput }))
    .mutation(({ ctx, input }) => {
      const before = knownProduct(ctx.db, input.productId)
      const draft = draftOf(input.product)
      refuseTwin(ctx.db, before.clientId, draft.code, before.id)
      refuseStrangeFamily(ctx.db, before.clientId, draft.familyId)
      changeProduct(ctx, before, draft)
    }),

  archive: call
    .input(z.object({ productId: idOf('product'), archived: z.boolean() }))
    .mutation(({ ctx, input }) => {
      archiveProduct(ctx, knownProduct(ctx.db, input.productId), input.archived)
    }),

  /** Keeps a picture of the product: JPEG, PNG or WebP, told by its first bytes, up to 8 MB. */
  setPicture: call
    .input(
      z.object({
        productId: idOf('product'),
        name: text('The picture’s name'),
        base64: z
          .base64('The picture could not be read. Pick the file again.')
          .max(Math.ceil(pictureMaxBytes / 3) * 4, 'The picture is over 8 MB. Save it smaller, as a JPEG.'),
      }),
    )
    .mutation(({ ctx, input }) => {
      const product = knownProduct(ctx.db, input.productId)
      setPicture(ctx, product, keepPicture(ctx, input.name, input.base64))
    }),

  removePicture: call.input(z.object({ productId: idOf('product') })).mutation(({ ctx, input }) => {
    setPicture(ctx, knownProduct(ctx.db, input.productId), null)
  }),
})

function keepPicture(ctx: InStudio, name: string, base64: string): Id<'attachment'> {
  const bytes = Buffer.from(base64, 'base64')
  const mediaType = pictureType(bytes)
  if (mediaType === undefined) {
    throw new Refusal(
      'no-picture',
      `${name} is no JPEG, PNG or WebP picture. Export it from the raw file as a JPEG and pick that.`,
      { field: 'picture' },
    )
  }
  return keepFile(ctx, ctx.folder, bytes, name, mediaType)
}

function knownProduct(db: Db, productId: Id<'product'>): Product {
  const product = findProduct(db, productId)
  if (!product) throw new Refusal('no-product', 'This product is not in the studio.')
  return product
}

function noClient(): Refusal {
  return new Refusal('no-client', 'This client is not in the studio. Choose one of the list.', {
    field: 'clientId',
  })
}

/** Two products of one code could not be told apart on the shelf or in a file name. */
function refuseTwin(db: Db, clientId: Id<'client'>, code: string, self: Id<'product'> | undefined): void {
  const twin = productByCode(db, clientId, code)
  if (!twin || twin.id === self) return
  throw new Refusal(
    'product-code-taken',
    twin.archivedAt === null
      ? `This client already has a product with the code ${code}: ${twin.name}. Use another code, or change that product.`
      : `This client already has a product with the code ${code}, off the list: ${twin.name}. Bring it back instead.`,
    { field: 'product.code' },
  )
}

function refuseStrangeFamily(db: Db, clientId: Id<'client'>, familyId: Id<'family'> | null): void {
  if (familyId === null || findFamily(db, familyId)?.clientId === clientId) return
  throw new Refusal('family-of-another-client', 'This family is not one of this client. Choose another.', {
    field: 'product.familyId',
  })
}

function draftOf(input: z.output<typeof ProductInput>): ProductDraft {
  const { widthMm, depthMm, heightMm, sweptMm, ...rest } = input
  return {
    ...rest,
    gtin: rest.gtin === null ? null : checkedGtin(rest.gtin),
    widthUm: umFromMm(widthMm, 'The width'),
    depthUm: umFromMm(depthMm, 'The depth'),
    heightUm: umFromMm(heightMm, 'The height'),
    sweptUm: umFromMm(sweptMm, 'The swept width'),
  }
}

function umFromMm(mm: number | null, what: string): number | null {
  return mm === null ? null : um10FromMm(mm, what) / 10
}

/** A product as the page reads it: lengths in mm, its swept width (as measured and as it counts) and size class. */
function withSizes<T extends Product>(product: T, limits: ReturnType<typeof sizeLimitsMm>) {
  const { widthUm, depthUm, heightUm, sweptUm, ...rest } = product
  const size = {
    plan: product.plan,
    widthMm: mmFromUm(widthUm),
    depthMm: mmFromUm(depthUm),
    heightMm: mmFromUm(heightUm),
    sweptMm: mmFromUm(sweptUm),
  }
  return {
    ...rest,
    ...size,
    sweptWidthMm: sweptWidthMm(size),
    sizeClass: sizeClassOf(size, limits.smallMaxMm, limits.mediumMaxMm),
    /** False where a size is missing and the class is the studio's guess. */
    sizeKnown: sweptWidthMm(size) !== null && heightUm !== null,
  }
}

function mmFromUm(um: number | null): number | null {
  return um === null ? null : um / 1000
}
