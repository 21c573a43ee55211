import { formatDecimal } from '../../main/trade/decimal.ts'
import { thirdOfTurn } from '../../main/trade/turn/framesToShoot.ts'
import { mostRows } from '../../main/trade/turn/rows.ts'
import type { RowValue } from '../briefs/briefValue.ts'
import { RowFields } from '../briefs/rowFields.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine } from '../parts/form.tsx'
import css from './quotes.module.css'
import { type TypedQuote, withRowCount } from './quoteValue.ts'

/** The rows as they are typed, and whether one stands for all of them. */
export interface RowsHand {
  readonly typed: TypedQuote
  readonly patch: (values: Partial<TypedQuote>) => void
  /** The index of the row that is drawn; the first while they are not parted. */
  readonly shown: number
  readonly isParted: boolean
}

type Turned = Partial<Pick<RowValue, 'framesPerTurn' | 'overlapFrames'>>

/** The rows with other frames or overlap: of the one shown where they are parted, else of all. */
export function turned({ typed, shown, isParted }: Omit<RowsHand, 'patch'>, values: Turned) {
  return typed.rows.map((row, index) => (isParted && index !== shown ? row : { ...row, ...values }))
}

const counts = Array.from({ length: mostRows }, (_, index) => String(index + 1))

/** Frames, overlap and number of rows: one of each for all rows, until a person gives each its own. */
export function QuoteRows(
  props: RowsHand & {
    readonly onShow: (index: number) => void
    readonly onPart: (isParted: boolean) => void
  },
) {
  const { typed, patch, shown, isParted } = props
  const { rows } = typed
  if (!isParted) return <RowsAlike {...props} />
  const row = rows[shown]
  return (
    <>
      <RowFields
        rows={rows}
        onChange={(next) => patch({ rows: next, stepUm10: null })}
        shown={shown}
        onShow={props.onShow}
      />
      <ButtonRow>
        <ThirdOfTurn {...props} />
        <Button
          onClick={() => {
            if (row) patch({ rows: rows.map((each) => ({ ...row, ...angleOf(each) })) })
            props.onPart(false)
          }}
        >
          {`All rows like row ${shown + 1}`}
        </Button>
      </ButtonRow>
    </>
  )
}

function angleOf({ key, viewAngleMdeg }: RowValue) {
  return { key, viewAngleMdeg }
}

function RowsAlike(props: RowsHand & { readonly onPart: (isParted: boolean) => void }) {
  const { typed, patch } = props
  const { rows } = typed
  const [first] = rows
  return (
    <>
      <FieldLine>
        <NumberField
          label="Frames a turn"
          name="framesPerTurn"
          value={first?.framesPerTurn ?? null}
          onChange={(framesPerTurn) => patch({ rows: turned(props, { framesPerTurn }), stepUm10: null })}
        />
        <NumberField
          label="Overlap"
          name="overlapFrames"
          unit="frames"
          value={first?.overlapFrames ?? null}
          onChange={(overlapFrames) => patch({ rows: turned(props, { overlapFrames }) })}
        />
        <SelectField
          label="Rows"
          name="rows"
          width="narrow"
          value={String(rows.length)}
          options={counts.map((value) => ({ value, label: value }))}
          onChange={(count) => patch({ rows: withRowCount(rows, Number(count)) })}
        />
        <div className={css.level}>
          <ThirdOfTurn {...props} />
        </div>
      </FieldLine>
      {rows.length > 1 ? (
        <p className={css.said}>
          {`Seen from ${anglesText(rows)}, every row alike. `}
          <Button
            kind="quiet"
            onClick={() => {
              patch({ stepUm10: null })
              props.onPart(true)
            }}
          >
            Give each row its own
          </Button>
        </p>
      ) : null}
    </>
  )
}

function anglesText(rows: readonly RowValue[]): string {
  const angles = rows.map(({ viewAngleMdeg }) => `${formatDecimal(viewAngleMdeg ?? 0, 3)}°`)
  return `${angles.slice(0, -1).join(', ')} and ${angles.at(-1)}`
}

function ThirdOfTurn(props: RowsHand) {
  const frames = props.typed.rows[props.shown]?.framesPerTurn ?? 0
  if (frames < 3) return null
  const third = thirdOfTurn(frames)
  return (
    <Button onClick={() => props.patch({ rows: turned(props, { overlapFrames: third }) })}>
      {props.isParted ? `Overlap a third in row ${props.shown + 1}: ${third}` : `Overlap a third: ${third}`}
    </Button>
  )
}
