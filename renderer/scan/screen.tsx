import { Route, Routes, useNavigate, useParams } from 'react-router'
import { Asked } from '../parts/asked.tsx'
import { Button } from '../parts/button.tsx'
import { api, useAsk } from '../shell/api.ts'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { useAwake } from '../takes/benchKeys.ts'
import css from './scan.module.css'

/** The slate of a spin on the screen of a tablet. */
export function Screen() {
  return (
    <Routes>
      <Route path=":shootId" element={<SlateOfAddress />} />
      <Route path="*" element={<NoSuchPage />} />
    </Routes>
  )
}

function SlateOfAddress() {
  const shootId = Number(useParams().shootId)
  return Number.isSafeInteger(shootId) && shootId > 0 ? <Slate shootId={shootId} /> : <NoSuchPage />
}

/** The code as large as it goes before near black, with the product's name, to be photographed before a take. */
function Slate({ shootId }: { readonly shootId: number }) {
  const slate = useAsk(['tickets', 'slate', shootId], () => api.tickets.slate.query({ shootId }))
  const navigate = useNavigate()
  useAwake(true)
  return (
    <div className={css.slate} data-light="bench">
      <Asked of={slate} isPage>
        {(data) => (
          <>
            <title>{`Slate, ${data.name} · Turnsheet`}</title>
            <header className={css.slateHead}>
              <h1>
                {data.name} <span className={css.codes}>{data.codes.join(' ')}</span>
              </h1>
              {data.isCancelled ? <p role="status">This spin is cancelled.</p> : null}
              <p className={css.slateActs}>
                {document.fullscreenEnabled ? (
                  <Button large onClick={fillScreen}>
                    Fill the screen
                  </Button>
                ) : null}
                <Button
                  large
                  kind="main"
                  onClick={async () => {
                    if (document.fullscreenElement) await document.exitFullscreen()
                    navigate(-1)
                  }}
                >
                  Done
                </Button>
              </p>
            </header>
            <SlateCode slate={data} />
          </>
        )}
      </Asked>
    </div>
  )
}

function fillScreen(): void {
  if (document.fullscreenElement) void document.exitFullscreen()
  // Where the browser refuses, the slate stays as large as its window.
  else document.documentElement.requestFullscreen().catch(() => {})
}

/** White round the code, in modules, so that cameras find it (ISO/IEC 18004, from memory). */
const quietModules = 4

function SlateCode({
  slate,
}: {
  readonly slate: {
    readonly scanText: string
    readonly sizeModules: number
    readonly dark: readonly { readonly column: number; readonly line: number; readonly length: number }[]
  }
}) {
  const side = slate.sizeModules + 2 * quietModules
  return (
    <svg
      className={css.code}
      viewBox={`0 0 ${side} ${side}`}
      role="img"
      aria-label={`Square code ${slate.scanText}`}
      shapeRendering="crispEdges"
    >
      <rect width={side} height={side} className={css.light} />
      <path
        className={css.dark}
        d={slate.dark
          .map(
            ({ column, line, length }) =>
              `M${column + quietModules} ${line + quietModules}h${length}v1h${-length}z`,
          )
          .join('')}
      />
    </svg>
  )
}
