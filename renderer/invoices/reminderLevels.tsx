import { useState } from 'react'
import type { Answers, Asks } from '../../main/api/types.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { CheckField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'

type Level = Answers['reminders']['levels'][number]
type Typed = Omit<Level, 'level' | 'daysAfterDue' | 'daysBetween'> & {
  readonly key: number
  readonly daysAfterDue: number | null
  readonly daysBetween: number | null
}

/** When each reminder may go out, and what it proposes besides. */
export function ReminderLevels() {
  const levels = useAsk(['reminders', 'levels'], () => api.reminders.levels.query())
  return (
    <Part title="Levels">
      <Asked of={levels}>{(data) => <Levels key={JSON.stringify(data)} levels={data} />}</Asked>
    </Part>
  )
}

function Levels({ levels }: { readonly levels: readonly Level[] }) {
  const [rows, setRows] = useState<readonly Typed[]>(levels.map((level) => ({ ...level, key: level.level })))
  const say = useNotice()
  const act = useAct(
    // A number left empty goes as null: the studio answers with the sentence for its field.
    () =>
      api.reminders.setLevels.mutate({
        levels: rows.map(({ daysAfterDue, daysBetween, withInterest, withLumpSum }) => ({
          daysAfterDue,
          daysBetween,
          withInterest,
          withLumpSum,
        })),
      } as Asks['reminders']['setLevels']),
    () => say('The levels are kept.'),
  )
  const change = (row: Typed, part: Partial<Typed>) =>
    setRows(rows.map((each) => (each === row ? { ...row, ...part } : each)))
  const last = rows.at(-1)
  return (
    <Form onSubmit={act.run} refusal={act.refusal} label="Levels of reminders">
      {rows.map((row, index) => (
        <FieldLine key={row.key}>
          <NumberField
            label={`Reminder ${index + 1}: days after the due day`}
            value={row.daysAfterDue}
            onChange={(daysAfterDue) => change(row, { daysAfterDue })}
          />
          <NumberField
            label={`Reminder ${index + 1}: days since the one before`}
            value={row.daysBetween}
            onChange={(daysBetween) => change(row, { daysBetween })}
          />
          <CheckField
            label={`Reminder ${index + 1} proposes interest`}
            checked={row.withInterest}
            onChange={(withInterest) => change(row, { withInterest })}
          />
          <CheckField
            label={`Reminder ${index + 1} proposes the lump sum`}
            checked={row.withLumpSum}
            onChange={(withLumpSum) => change(row, { withLumpSum })}
          />
        </FieldLine>
      ))}
      <ButtonRow>
        <Button type="submit" busy={act.busy}>
          Keep the levels
        </Button>
        {rows.length < 9 && last ? (
          <Button
            onClick={() =>
              setRows([
                ...rows,
                { ...last, key: last.key + 1, daysAfterDue: (last.daysAfterDue ?? 0) + 14, daysBetween: 14 },
              ])
            }
          >
            Add a level
          </Button>
        ) : null}
        {rows.length > 1 ? (
          <Button kind="quiet" onClick={() => setRows(rows.slice(0, -1))}>
            Take the last level out
          </Button>
        ) : null}
      </ButtonRow>
    </Form>
  )
}
