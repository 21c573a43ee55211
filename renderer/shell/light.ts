import { storeOf } from './store.ts'

/** By day in neutral greys; at the bench near-black, because screen light spills into the set. */
export type Light = 'day' | 'bench'

const key = 'turnsheet-light'

export const light = storeOf<Light>('day')

/** Sets the light and remembers it on this device. */
export function setLight(next: Light): void {
  light.set(next)
  document.documentElement.dataset.light = next
  localStorage.setItem(key, next)
}

/** The light this device was left in; called before anything is drawn. */
export function restoreLight(): void {
  setLight(localStorage.getItem(key) === 'bench' ? 'bench' : 'day')
}
