import { type ProductSize, sweptWidthMm } from '../../main/trade/product.ts'
import { ProductPlan } from '../products/productPlan.tsx'
import css from './spinPicture.module.css'

/** What a spin is known by: its take's picture, else its product's, else the product's outline from above. */
export function SpinPicture(props: {
  readonly of: ProductSize & { readonly code: string; readonly pictureSha256: string | null }
}) {
  const { code, pictureSha256, ...size } = props.of
  return (
    <div className={css.frame}>
      {pictureSha256 !== null ? (
        <img src={`/files/${pictureSha256}`} alt={code} />
      ) : sweptWidthMm(size) !== null ? (
        <ProductPlan size={size} />
      ) : (
        <svg viewBox="-112 -112 224 224" role="img" aria-label={`No picture and no size of ${code} yet`}>
          <circle r={100} className={css.unknown} />
        </svg>
      )}
    </div>
  )
}
