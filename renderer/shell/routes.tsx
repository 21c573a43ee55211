import { createBrowserRouter, type RouteObject, redirect } from 'react-router'
import { Waiting } from '../parts/page.tsx'
import { BrokenPage } from './broken.tsx'
import { Frame } from './frame.tsx'
import { NoSuchPage } from './no-such-page.tsx'

/**
 * One line per subject: `subject('clients/*', () => import('../clients/screen.tsx'))`. The file exports
 * `Screen`, which draws its own pages with `<Routes>` below its path.
 */
const subjects: RouteObject[] = [
  subject('clients/*', () => import('../clients/screen.tsx')),
  subject('products/*', () => import('../products/screen.tsx')),
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
