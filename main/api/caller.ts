import type { StudioHouse } from './house.ts'
import { callerOf, type Who } from './kit.ts'
import { appRouter } from './router.ts'

/** The whole API as plain functions, through the same gate as the doors: for the demo and the tests. */
export function caller(house: StudioHouse, who?: Who) {
  return callerOf(appRouter)({ house, who })
}
