import { QueryClient, QueryClientProvider } from '@tanstack/react-query'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { RouterProvider } from 'react-router/dom'
import './look/base.css'
import { NoticeLine } from './parts/notice.tsx'
import { refusalOf } from './shell/api.ts'
import { watchForBreakage } from './shell/breakage.ts'
import { followChanges } from './shell/changes.ts'
import { restoreLight } from './shell/light.ts'
import { router } from './shell/routes.tsx'

restoreLight()
watchForBreakage()

const queryClient = new QueryClient({
  defaultOptions: {
    // The studio is on this machine: whether there is a network must not matter.
    queries: {
      networkMode: 'always',
      // Changes are told; nothing has to be asked for again by the clock.
      staleTime: Number.POSITIVE_INFINITY,
      refetchOnWindowFocus: false,
      retryDelay: 400,
      retry: (failures, error) => failures < 2 && !refusalOf(error),
    },
    mutations: { networkMode: 'always', retry: false },
  },
})
followChanges(queryClient)

const root = document.getElementById('root')
if (!root) throw new Error('index.html has no #root.')
createRoot(root).render(
  <StrictMode>
    <QueryClientProvider client={queryClient}>
      <NoticeLine>
        <RouterProvider router={router} />
      </NoticeLine>
    </QueryClientProvider>
  </StrictMode>,
)
