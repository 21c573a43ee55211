import { createContext, type ReactNode, useCallback, useContext, useEffect, useState } from 'react'
import css from './notice.module.css'

const Say = createContext<(sentence: string) => void>(() => {})

/** Stands once round the whole program; below it `useNotice` works. */
export function NoticeLine({ children }: { readonly children: ReactNode }) {
  const [said, setSaid] = useState<{ readonly sentence: string; readonly count: number }>()
  const say = useCallback(
    (sentence: string) => setSaid((before) => ({ sentence, count: (before?.count ?? 0) + 1 })),
    [],
  )
  useEffect(() => {
    if (!said) return
    const timer = setTimeout(() => setSaid(undefined), 6000)
    return () => clearTimeout(timer)
  }, [said])
  return (
    <Say value={say}>
      {children}
      <div className={css.line} role="status">
        {said ? (
          <p className={css.said} key={said.count}>
            {said.sentence}
          </p>
        ) : null}
      </div>
    </Say>
  )
}

/** Says what has been done, in a sentence, at the foot of the window and to a screen reader; for six seconds. */
export function useNotice(): (sentence: string) => void {
  return useContext(Say)
}
