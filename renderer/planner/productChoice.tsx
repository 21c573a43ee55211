import { useState } from 'react'
import { Button } from '../parts/button.tsx'
import { FindField } from '../parts/findField.tsx'
import { withUnit } from '../parts/format.ts'
import { api, useAsk } from '../shell/api.ts'
import css from './planner.module.css'
import { usePlannerHand, useText } from './plannerFields.tsx'
import { textOf } from './prefill.ts'

/** Finds a product by code or name; a press fills its swept width, height and finish. */
export function ProductChoice() {
  const { patch } = usePlannerHand()
  const chosen = useText('product')
  const [text, setText] = useState('')
  const found = useAsk(
    ['products', 'list', 'planner', text],
    () => api.products.list.query({ text, page: { offset: 0, limit: 5 } }),
    { when: text.trim() !== '' },
  ).data
  const lines = text.trim() === '' ? undefined : found?.lines
  return (
    <div className={css.finding}>
      <FindField label="Product to start from" value={text} onChange={setText} />
      {chosen ? <p className={css.note}>{`Sizes of ${chosen}.`}</p> : null}
      {lines ? (
        <ul aria-label="Products found">
          {lines.length === 0 ? <li className={css.note}>No product has this in its code or name.</li> : null}
          {lines.map((product) => (
            <li key={product.id}>
              <Button
                kind="quiet"
                disabled={product.sweptWidthMm === null}
                onClick={() => {
                  if (product.sweptWidthMm === null) return
                  patch({
                    product: `${product.code} ${product.name}`.slice(0, 60),
                    swept: textOf(product.sweptWidthMm),
                    ...(product.heightMm === null ? {} : { height: textOf(product.heightMm) }),
                    finish: product.finish,
                  })
                  setText('')
                }}
              >
                {`${product.code} ${product.name}`}
              </Button>
              <span className={css.note}>
                {product.sweptWidthMm === null
                  ? 'not measured yet'
                  : `sweeps ${withUnit(product.sweptWidthMm, 'mm', 0)}`}
              </span>
            </li>
          ))}
        </ul>
      ) : null}
    </div>
  )
}
