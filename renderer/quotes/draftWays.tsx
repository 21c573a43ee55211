import { byDays, type QuoteFigures } from '../../main/trade/quote.ts'
import { otherWay, otherWayRows } from '../../main/trade/quoteWays.ts'
import { framesText, type TurnRow } from '../../main/trade/turn/rows.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct } from '../shell/api.ts'
import css from './quotes.module.css'
import {
  inputOf,
  type QuoteAnswer,
  type QuoteOfJob,
  readRows,
  saveInput,
  type TypedQuote,
  type Way,
} from './quoteValue.ts'
import { keptWay, WaysTable } from './quoteWays.tsx'
import { wayWords } from './stateWords.ts'

interface WaysProps {
  readonly jobId: number
  readonly way: Way
  readonly drafts: readonly QuoteOfJob[]
  readonly typed: TypedQuote
  readonly figures: QuoteFigures | undefined
  readonly answer: QuoteAnswer
  /** Keeps what was typed and gives the draft's id. */
  readonly kept: () => Promise<number>
  readonly onShow: (quoteId: number) => void
}

/** The ways of a draft side by side, and another one to add: what is typed is kept first. */
export function DraftWays(props: WaysProps) {
  const { drafts, way, answer } = props
  const say = useNotice()
  const show = useAct(
    async (wanted: Way) => {
      await props.kept()
      return drafts.find(({ quote }) => quote.way === wanted)?.quote.id
    },
    (quoteId) => quoteId !== undefined && props.onShow(quoteId),
  )
  const add = useAct(
    async (wanted: 'coarser' | 'smoother') => {
      await props.kept()
      return api.quotes.save.mutate(newWay(props, wanted))
    },
    ({ quoteId }, wanted) => {
      say(`A ${wanted} way is begun. Look at its turn and its price.`)
      props.onShow(quoteId)
    },
  )
  const proposals = (['coarser', 'smoother'] as const).flatMap((wanted) => {
    const rows = proposedRows(props, wanted)
    return rows === null ? [] : [{ wanted, rows }]
  })
  const rows = drafts.map((draft) => {
    const input = draft.quote.way === way ? inputOf(props.typed) : draft.input
    const row = draft.quote.way === way ? typedWay(props, draft) : keptWay(draft)
    // One way alone is compared beside its price.
    return drafts.length > 1 && input ? { ...row, byDays: byDays(answer.basis, input) } : row
  })
  const refusal = add.refusal ?? show.refusal
  if (answer.basis.spins.length === 0) return null
  return (
    <div className={css.whole}>
      <Part
        title="Ways of doing it"
        acts={
          <ButtonRow>
            {proposals.map(({ wanted, rows }) => (
              <Button
                key={wanted}
                kind="quiet"
                busy={add.busy}
                disabled={!props.figures}
                onClick={() => add.run(wanted)}
              >
                {`Add a ${wanted} way: ${framesText(rows)} frames`}
              </Button>
            ))}
          </ButtonRow>
        }
      >
        {rows.length > 1 ? (
          <WaysTable
            ways={rows}
            shown={way}
            onShow={(wanted) => wanted !== way && show.run(wanted)}
            currency={answer.basis.currency}
            spins={answer.basis.spins.length}
            picture={answer.picture}
          />
        ) : (
          <p className={css.note}>
            The client can be shown up to three ways side by side, and says yes to one of them.
          </p>
        )}
        {rows.length > 1 ? (
          <p className={css.note}>
            {`What is typed below is the way “${wayWords[way].toLowerCase()}”. All ways are sent together on one paper; a step on screen is that of the outermost point, at the scale of the axis.`}
          </p>
        ) : null}
        {refusal ? <FormRefusal sentence={refusal.sentence} /> : null}
      </Part>
    </div>
  )
}

/** The rows another way would start with; null where it is there already, or there is none. */
function proposedRows(props: WaysProps, wanted: 'coarser' | 'smoother'): readonly TurnRow[] | null {
  if (props.drafts.some(({ quote }) => quote.way === wanted)) return null
  const rows = asked(props)?.rows ?? readRows(props.typed.rows)
  if (!rows || rows.some(({ framesPerTurn }) => framesPerTurn < 2)) return null
  const sets = props.answer.basis.spins.flatMap(({ deliverables }) =>
    deliverables.flatMap(({ frames: set }) => (set === null ? [] : [set])),
  )
  return otherWayRows(wanted, rows, Math.max(0, ...sets))
}

/** The way as asked, as it is typed or kept; it is what the others are measured by. */
function asked({ way, drafts, typed }: WaysProps) {
  if (way === 'as asked') return inputOf(typed)
  return drafts.find(({ quote }) => quote.way === 'as asked')?.input ?? inputOf(typed)
}

function newWay(props: WaysProps, wanted: 'coarser' | 'smoother') {
  const from = asked(props)
  const rows = proposedRows(props, wanted)
  if (!from || rows === null) throw new Error(`There is no ${wanted} way to begin.`)
  return saveInput(props.jobId, wanted, otherWay(props.answer.basis, from, wanted, rows), props.typed)
}

/** The way that is typed, by the figures as they are worked out now. */
function typedWay({ typed, figures }: WaysProps, draft: QuoteOfJob) {
  if (!figures) return keptWay(draft)
  return {
    ...keptWay(draft),
    rows: readRows(typed.rows) ?? draft.quote.rows,
    benchMedianMs: figures.bench.medianMs,
    benchP80Ms: figures.bench.p80Ms,
    deskMs: figures.desk.totalMs,
    netMinor: figures.netMinor,
    totalMinor: figures.totalMinor,
    costP80Minor: figures.cost?.p80Minor ?? 0,
  }
}
