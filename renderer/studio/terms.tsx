import type { Answers, Asks } from '../../main/api/types.ts'
import { type TermKind, termKinds, termsOfKind } from '../../main/trade/terms.ts'
import { freshKey } from '../invoices/draftValue.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { useDraft } from '../parts/draft.ts'
import { FieldTable } from '../parts/fieldTable.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldGroup } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import css from './screen.module.css'
import { SettingsForm } from './settingsForm.tsx'

type Terms = Answers['terms']['list']

interface TypedTerm {
  readonly key: number
  readonly kind: TermKind
  readonly withinDays: number | null
  readonly chargePpm: number | null
}

const legends: Readonly<Record<TermKind, string>> = {
  cancelling: 'The client cancels booked bench time',
  'moving late': 'The client has it moved to another day',
  'idle bench': 'The bench stands idle because samples are missing',
}

/** What is charged for bench time that is cancelled, moved late or not used. */
export function TermsSection() {
  const terms = useAsk(['terms', 'list'], () => api.terms.list.query())
  return (
    <Part title="Bench time terms">
      <Asked of={terms}>{(data) => <TermsForm terms={data} />}</Asked>
    </Part>
  )
}

function TermsForm({ terms }: { readonly terms: Terms }) {
  const draft = useDraft<{ rows: readonly TypedTerm[] }>({
    rows: termKinds.flatMap((kind) => termsOfKind(terms, kind).map((term) => ({ ...term, key: freshKey() }))),
  })
  const { rows } = draft.values
  const say = useNotice()
  const save = useAct(
    () => api.terms.change.mutate(rows.map(({ key: _, ...row }) => row) as Asks['terms']['change']),
    () => {
      draft.reset(draft.values)
      say('Saved. New quotes carry these terms; quotes that were sent keep theirs.')
    },
  )
  const set = draft.set('rows')
  return (
    <SettingsForm
      label="Bench time terms"
      touched={draft.touched}
      busy={save.busy}
      refusal={save.refusal}
      onSave={save.run}
    >
      <p className={css.note}>
        A share of the price of the spins booked in the block. Days are calendar days before the block. New
        quotes say these terms in the client’s language; a charge is proposed on a job’s page of extras and
        never booked by itself. What such terms may say differs by country, above all with private clients:
        have a lawyer read them.
      </p>
      {termKinds.map((kind) => (
        <FieldGroup key={kind} legend={legends[kind]}>
          <KindTable kind={kind} rows={rows} onChange={set} />
        </FieldGroup>
      ))}
    </SettingsForm>
  )
}

function KindTable(props: {
  readonly kind: TermKind
  readonly rows: readonly TypedTerm[]
  readonly onChange: (rows: readonly TypedTerm[]) => void
}) {
  const { kind, rows, onChange } = props
  const isIdle = kind === 'idle bench'
  const own = rows.filter((row) => row.kind === kind)
  const patch = (of: TypedTerm, some: Partial<TypedTerm>) =>
    onChange(rows.map((row) => (row === of ? { ...row, ...some } : row)))
  const fresh: TypedTerm = { key: freshKey(), kind, withinDays: isIdle ? 0 : null, chargePpm: null }
  return (
    <>
      {own.length === 0 ? <p className={css.note}>Nothing is charged.</p> : null}
      {own.length > 0 ? (
        <FieldTable
          caption={legends[kind]}
          columns={[
            ...(isIdle ? [] : [{ head: 'Days before, or fewer', figure: true, width: 160 }]),
            { head: 'Share of the price', figure: true, width: 160 },
            { head: 'Take away', isHeadSpoken: true, width: 100 },
          ]}
        >
          {own.map((row, index) => (
            <tr key={row.key}>
              {isIdle ? null : (
                <td>
                  <NumberField
                    label={`Days before, ${legends[kind]}, ${index + 1}`}
                    name={`${rows.indexOf(row)}.withinDays`}
                    unit="days"
                    value={row.withinDays}
                    onChange={(withinDays) => patch(row, { withinDays })}
                  />
                </td>
              )}
              <td>
                <NumberField
                  label={`Share, ${legends[kind]}, ${index + 1}`}
                  name={`${rows.indexOf(row)}.chargePpm`}
                  unit="%"
                  places={4}
                  value={row.chargePpm}
                  onChange={(chargePpm) => patch(row, { chargePpm })}
                />
              </td>
              <td>
                <Button
                  kind="quiet"
                  aria-label={`Take away, ${legends[kind]}, ${index + 1}`}
                  onClick={() => onChange(rows.filter((one) => one !== row))}
                >
                  Take away
                </Button>
              </td>
            </tr>
          ))}
        </FieldTable>
      ) : null}
      {isIdle && own.length > 0 ? null : (
        <ButtonRow>
          <Button aria-label={`Add a term: ${legends[kind]}`} onClick={() => onChange([...rows, fresh])}>
            Add a term
          </Button>
        </ButtonRow>
      )}
    </>
  )
}
