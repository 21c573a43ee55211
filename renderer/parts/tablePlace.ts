import { useSearchParams } from 'react-router'

/** How a list is sorted: a column's key, downwards or not. */
export interface Sort {
  readonly key: string
  readonly descending: boolean
}

/** Where one stands in a list: kept in the address, so that 'back' finds the same rows. */
export interface TablePlace {
  /** From 1. */
  readonly page: number
  readonly sort: Sort
  readonly toPage: (page: number) => void
  readonly toSort: (sort: Sort) => void
  /** A filter's value from the address, or '' where it is not set. */
  readonly filter: (name: string) => string
  /** Sets a filter and goes back to the first page; '' takes it away. */
  readonly setFilter: (name: string, value: string) => void
}

/** Rows on one page of a list. */
export const rowsPerPage = 100

/**
 * Page, sort and filters of a list, read from and written to the address.
 * @param first  the sort before anybody chose one
 */
export function useTablePlace(first: Sort): TablePlace {
  const [params, setParams] = useSearchParams()
  const change = (values: Record<string, string>) =>
    setParams(
      (before) => {
        for (const [name, value] of Object.entries(values)) {
          if (value) before.set(name, value)
          else before.delete(name)
        }
        return before
      },
      { replace: true, preventScrollReset: true },
    )
  const sort = params.get('sort')
  return {
    page: Math.max(1, Math.trunc(Number(params.get('page'))) || 1),
    sort: sort ? { key: sort.replace(/^-/, ''), descending: sort.startsWith('-') } : first,
    toPage: (page) => change({ page: page > 1 ? String(page) : '' }),
    toSort: ({ key, descending }) => change({ sort: descending ? `-${key}` : key, page: '' }),
    filter: (name) => params.get(name) ?? '',
    setFilter: (name, value) => change({ [name]: value, page: '' }),
  }
}
