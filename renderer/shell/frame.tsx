import { useEffect, useMemo, useRef } from 'react'
import { NavLink, Outlet, ScrollRestoration, useLocation } from 'react-router'
import { Button } from '../parts/button.tsx'
import { dayIn } from '../parts/format.ts'
import { Waiting } from '../parts/page.tsx'
import { Scan } from '../scan/scan.tsx'
import { isCameraOpen } from '../scan/scanning.ts'
import { Screen as StartScreen } from '../start/screen.tsx'
import { api, useAsk } from './api.ts'
import { BrokenNotice } from './broken.tsx'
import { connected } from './changes.ts'
import css from './frame.module.css'
import { type Light, light, setLight } from './light.ts'
import { SearchBox } from './searchBox.tsx'
import { useStore } from './store.ts'
import { type Studio, StudioHere } from './studio.ts'
import { WhoChoice } from './worksHere.tsx'

const stations = [
  ['/board', 'Board'],
  ['/quotes', 'Quotes'],
  ['/planner', 'Planner'],
  ['/clients', 'Clients'],
  ['/products', 'Products'],
  ['/rigs', 'Rigs'],
  ['/bench', 'Bench'],
  ['/invoices', 'Invoices'],
  ['/studio', 'Studio'],
] as const

/** Pages that belong to a place of the top line: a job hangs on the board, what takes have taught is the studio's. */
const within: Readonly<Partial<Record<string, readonly string[]>>> = {
  '/board': ['/jobs', '/shelf'],
  '/quotes': ['/call'],
  '/studio': ['/figures'],
}

/** Round every page: the top line, the page itself, and what is shown over it. Before a studio is open, the start. */
export function Frame() {
  const state = useAsk(['start', 'state'], () => api.start.state.query())
  // At the bench the take fills the window: a line behind it would still be gone to by Tab, and not be seen.
  const isAtBench = /^\/(takes|slate)\//u.test(useLocation().pathname)
  const { data } = state
  const studio = useMemo<Studio | undefined>(() => {
    if (!data?.open || !data.timeZone || !data.currency) return undefined
    return {
      name: data.studioName ?? '',
      personName: data.personName ?? '',
      currency: data.currency,
      locale: data.locale ?? 'en-GB',
      timeZone: data.timeZone,
      today: dayIn(data.timeZone, new Date(data.now)),
    }
  }, [data])
  return (
    <div className={css.frame}>
      <a className={css.skip} href="#page">
        Go to the page
      </a>
      {isAtBench ? null : <TopLine studio={studio} />}
      <Main>
        {!data ? (
          <Waiting />
        ) : studio ? (
          <StudioHere value={studio}>
            <Outlet />
            <Scan />
          </StudioHere>
        ) : (
          <StartScreen />
        )}
      </Main>
      <BrokenNotice />
      <ScrollRestoration />
    </div>
  )
}

function TopLine({ studio }: { readonly studio: Studio | undefined }) {
  const isConnected = useStore(connected)
  const { pathname } = useLocation()
  return (
    <header className={css.top}>
      <div className={css.line}>
        <span className={css.studio} title={studio?.name}>
          {studio?.name ?? 'Turnsheet'}
        </span>
        <nav className={css.stations} aria-label="Places of work">
          {studio
            ? stations.map(([to, word]) => (
                <NavLink
                  key={to}
                  to={to}
                  className={({ isActive }) =>
                    isActive || within[to]?.some((page) => pathname.startsWith(page))
                      ? `${css.station} ${css.here}`
                      : (css.station ?? '')
                  }
                >
                  {word}
                </NavLink>
              ))
            : null}
        </nav>
        {studio ? <SearchBox /> : null}
        {studio ? (
          <span className={css.scan}>
            <Button onClick={() => isCameraOpen.set(true)}>Scan</Button>
          </span>
        ) : null}
        {studio ? <WhoChoice name={studio.personName} /> : null}
        <LightSwitch />
      </div>
      <TapeLine />
      {isConnected ? null : (
        <p className={css.behind} role="status">
          The studio does not answer just now. What you see may be behind; it is asked again every two
          seconds.
        </p>
      )}
    </header>
  )
}

/** The lower edge of the top line: a tape with its divisions. */
function TapeLine() {
  return (
    <svg className={css.tape} aria-hidden="true">
      <pattern id="tape-divisions" width="80" height="9" patternUnits="userSpaceOnUse">
        <path className={css.tick} d="M.5 0v8" />
        <path
          className={css.tick}
          d="M8.5 0v3M16.5 0v3M24.5 0v3M32.5 0v3M40.5 0v5M48.5 0v3M56.5 0v3M64.5 0v3M72.5 0v3"
        />
      </pattern>
      <rect width="100%" height="9" fill="url(#tape-divisions)" />
    </svg>
  )
}

function LightSwitch() {
  const now = useStore(light)
  const word: Record<Light, string> = { day: 'Day', bench: 'Dim' }
  return (
    <fieldset className={css.light} aria-label="Light of the screen">
      {(['day', 'bench'] as const).map((one) => (
        <button key={one} type="button" aria-pressed={now === one} onClick={() => setLight(one)}>
          {word[one]}
        </button>
      ))}
    </fieldset>
  )
}

/** The page's landmark. Going to another page puts the focus here, as a browser would with a new document. */
function Main({ children }: { readonly children: React.ReactNode }) {
  const { pathname } = useLocation()
  const main = useRef<HTMLElement>(null)
  const before = useRef(pathname)
  useEffect(() => {
    if (before.current === pathname) return
    before.current = pathname
    main.current?.focus({ preventScroll: true })
  }, [pathname])
  return (
    <main ref={main} id="page" className={css.main} tabIndex={-1}>
      {children}
    </main>
  )
}
