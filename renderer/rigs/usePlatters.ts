import { api, useAsk } from '../shell/api.ts'

/** The platters in use; empty while they are read. */
export function usePlatters() {
  return useAsk(['platters', 'list', false], () => api.platters.list.query({ gone: false })).data ?? []
}
