import type { Answers } from '../../main/api/types.ts'
import { Button } from '../parts/button.tsx'
import { FileDrop } from '../parts/fileDrop.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { Part } from '../parts/page.tsx'
import { readBase64 } from '../parts/readBase64.ts'
import { api, useAct } from '../shell/api.ts'
import css from './products.module.css'

type WholeProduct = Answers['products']['one']

/** The picture a product is known by on the shelf. */
export function ProductPicture(props: {
  readonly product: WholeProduct['product']
  readonly picture: WholeProduct['picture']
}) {
  const { product, picture } = props
  const set = useAct(async (file: File) =>
    api.products.setPicture.mutate({
      productId: product.id,
      name: file.name,
      base64: await readBase64(file),
    }),
  )
  const remove = useAct(() => api.products.removePicture.mutate({ productId: product.id }))
  return (
    <Part
      title="Picture"
      acts={
        picture ? (
          <Button kind="quiet" busy={remove.busy} onClick={() => remove.run()}>
            Take it away
          </Button>
        ) : null
      }
    >
      {picture ? (
        <img
          className={css.picture}
          src={`/files/${picture.sha256}`}
          alt={`${product.code} ${product.name}`}
        />
      ) : null}
      <FileDrop
        label={picture ? 'Drop another picture here' : 'Drop a picture of the product here'}
        hint="JPEG, PNG or WebP, up to 8 MB."
        accept="image/jpeg,image/png,image/webp"
        busy={set.busy}
        onFile={set.run}
      />
      {set.refusal ? <FormRefusal sentence={set.refusal.sentence} /> : null}
    </Part>
  )
}
