import { Route, Routes } from 'react-router'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { ImportPage } from './importPage.tsx'
import { ChangeProduct, NewProduct } from './productForm.tsx'
import { ProductList } from './productList.tsx'
import { ProductPage } from './productPage.tsx'

/** Products: the list across clients, one product, its form, and taking in a client's list. */
export function Screen() {
  return (
    <Routes>
      <Route index element={<ProductList />} />
      <Route path="new" element={<NewProduct />} />
      <Route path="import" element={<ImportPage />} />
      <Route path=":productId" element={<ProductPage />} />
      <Route path=":productId/change" element={<ChangeProduct />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}
