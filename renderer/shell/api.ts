import { keepPreviousData, useMutation, useQuery } from '@tanstack/react-query'
import { createTRPCClient, httpBatchLink, TRPCClientError } from '@trpc/client'
import type { AppRouter, Bridge } from '../../main/api/types.ts'
import type { ShownRefusal } from '../parts/refusal.ts'
import { reportBreakage } from './breakage.ts'
import { bridge } from './bridge.ts'
import { somethingChanged } from './changes.ts'

/** The studio's calls, typed end to end: `api.clients.list.query({ … })`, `api.clients.save.mutate({ … })`. */
export const api = createTRPCClient<AppRouter>({
  links: [
    httpBatchLink({
      url: '/api',
      // Questions too: a preview carries a whole file, which no address can hold.
      methodOverride: 'POST',
      ...(bridge ? { fetch: fetchOver(bridge) } : {}),
    }),
  ],
})

/** How often long work is looked at. */
const lookEveryMs = 300

/** What `useAsk` gives. `data` is undefined only until the first answer. */
export interface Answer<T> {
  readonly data: T | undefined
  /** Why the studio will not answer: no such job, no studio open. */
  readonly refusal: ShownRefusal | undefined
  /** True while the answer to an earlier question stands in for the one on its way. */
  readonly stale: boolean
}

/**
 * Asks the studio and asks again after every change. An earlier answer stays until the next has come, so that
 * nothing jumps. A bug goes to the error page.
 * @param key  names the question and holds everything it depends on: `['clients', page, sort]`
 * @param options.when       false holds the question back
 * @param options.againWhile asks again and again while it is true of the answer: of long work on its way. Each time
 *                           only once the last answer has come, so that a slow studio is not asked in vain.
 */
export function useAsk<T>(
  key: readonly unknown[],
  ask: () => Promise<T>,
  options: { readonly when?: boolean; readonly againWhile?: (data: T) => boolean } = {},
): Answer<T> {
  const { againWhile } = options
  const query = useQuery({
    queryKey: key,
    queryFn: ask,
    enabled: options.when ?? true,
    placeholderData: keepPreviousData,
    refetchInterval: ({ state: { data } }) =>
      data !== undefined && againWhile?.(data) === true && lookEveryMs,
    refetchIntervalInBackground: true,
    throwOnError: (error, { state }) => state.data === undefined && !refusalOf(error),
  })
  return {
    data: query.data,
    refusal: refusalOf(query.error),
    stale: query.isPlaceholderData,
  }
}

/** What `useAct` gives. */
export interface Act<I> {
  readonly run: (input: I) => void
  readonly busy: boolean
  /** The refusal of the last run; a form takes it as `refusal={act.refusal}`. */
  readonly refusal: ShownRefusal | undefined
  /** What the last run was given, to run it again with a reason. */
  readonly input: I | undefined
  /** Forgets the refusal. */
  readonly clear: () => void
}

/**
 * Changes something in the studio. A refusal is kept for the form to show; a bug is shown over the page, with
 * what was typed still behind it.
 * @param done  runs after success: say it, go somewhere, close the dialog
 */
export function useAct<I = void, O = unknown>(
  act: (input: I) => Promise<O>,
  done?: (output: O, input: I) => void,
): Act<I> {
  const mutation = useMutation({
    mutationFn: act,
    onSuccess: (output, input) => {
      somethingChanged()
      done?.(output, input)
    },
    onError: (error) => {
      if (!refusalOf(error)) reportBreakage(error)
    },
  })
  return {
    run: mutation.mutate,
    busy: mutation.isPending,
    refusal: refusalOf(mutation.error),
    input: mutation.variables,
    clear: mutation.reset,
  }
}

/** The refusal an error carries, or undefined where it is a bug. */
export function refusalOf(error: unknown): ShownRefusal | undefined {
  if (!(error instanceof TRPCClientError)) return undefined
  const data = error.data as { readonly refusal?: ShownRefusal | null } | null | undefined
  return data?.refusal ?? undefined
}

function fetchOver(over: Bridge) {
  return async (
    input: RequestInfo | URL | string,
    init?: { method?: string; headers?: HeadersInit; body?: unknown } | undefined,
  ): Promise<Response> => {
    const answer = await over.call({
      url: String(input),
      method: init?.method ?? 'GET',
      headers: Object.fromEntries(new Headers(init?.headers).entries()),
      body: typeof init?.body === 'string' ? init.body : null,
    })
    return new Response(answer.body, { status: answer.status, headers: { ...answer.headers } })
  }
}
