import type { inferRouterInputs, inferRouterOutputs } from '@trpc/server'
import type { appRouter } from './router.ts'

/** The contract as types alone: the page derives what it sends and reads from here. */
export type AppRouter = typeof appRouter
export type Asks = inferRouterInputs<AppRouter>
export type Answers = inferRouterOutputs<AppRouter>
export type { Bridge } from '../doors/bridge.ts'
export type { Change } from './house.ts'
export type { RefusalData } from './kit.ts'
