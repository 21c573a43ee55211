import { createBrowserRouter, type RouteObject, redirect } from 'react-router'
import { Waiting } from '../parts/page.tsx'
import { BrokenPage } from './broken.tsx'
import { Frame } from './frame.tsx'
import { NoSuchPage } from './noSuchPage.tsx'

/**
 * One line per subject: `subject('clients/*', () => import('../clients/screen.tsx'))`. The file exports
 * `Screen`, which draws its own pages with `<Routes>` below its path.
 */
const subjects: RouteObject[] = [
  subject('board/*', () => import('../board/screen.tsx')),
  subject('jobs/*', () => import('../jobs/screen.tsx')),
  subject('shelf/*', () => import('../samples/screen.tsx')),
  subject('quotes/*', () => import('../quotes/screen.tsx')),
  subject('call/*', () => import('../call/screen.tsx')),
  subject('planner/*', () => import('../planner/screen.tsx')),
  subject('clients/*', () => import('../clients/screen.tsx')),
  subject('products/*', () => import('../products/screen.tsx')),
  subject('rigs/*', () => import('../rigs/screen.tsx')),
  subject('bench/*', () => import('../bench/screen.tsx')),
  subject('invoices/*', () => import('../invoices/screen.tsx')),
  subject('figures/*', () => import('../figures/screen.tsx')),
  subject('studio/*', () => import('../studio/screen.tsx')),
  subject('takes/*', () => import('../takes/screen.tsx')),
  subject('slate/*', () => import('../scan/screen.tsx')),
]

export const router = createBrowserRouter([
  {
    Component: Frame,
    HydrateFallback: Waiting,
    ErrorBoundary: BrokenPage,
    children: [
      {
        // Inside the frame, so that a broken page leaves the way to the others.
        ErrorBoundary: BrokenPage,
        children: [
          { index: true, loader: () => redirect('/board') },
          ...subjects,
          { path: '*', Component: NoSuchPage },
        ],
      },
    ],
  },
])

/** A subject's pages, loaded when they are first gone to. */
export function subject(
  path: string,
  load: () => Promise<{ readonly Screen: React.ComponentType }>,
): RouteObject {
  return { path, lazy: { Component: async () => (await load()).Screen } }
}
