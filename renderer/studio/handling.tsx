import type { Answers, Asks } from '../../main/api/types.ts'
import { type Finish, finishes, type SizeClass, sizeClasses } from '../../main/trade/product.ts'
import { useDraft } from '../parts/draft.ts'
import { FieldTable } from '../parts/fieldTable.tsx'
import { capital } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'
import { MinutesField } from './minutesField.tsx'
import css from './screen.module.css'
import { SettingsForm } from './settingsForm.tsx'

type Handling = Answers['pace']['figures']['handling']
type Which = 'firstMs' | 'followingMs'
/** Which time: its size class, finish, and whether it is the first of its family. */
type Cell = `${SizeClass} ${Finish} ${Which}`
type Typed = { readonly [K in Cell]?: number | null }

const whichWords: readonly (readonly [Which, string])[] = [
  ['firstMs', 'first'],
  ['followingMs', 'following'],
]

/** Minutes to unpack, clean, place and centre a product, by size class and finish. */
export function HandlingForm({ handling }: { readonly handling: Handling }) {
  const draft = useDraft<Typed>(typedOf(handling))
  const say = useNotice()
  const save = useAct(
    () => api.pace.changeHandling.mutate(sentOf(draft.values)),
    () => {
      draft.reset(draft.values)
      say('Saved. Estimates follow it from now on.')
    },
  )
  return (
    <SettingsForm
      label="Handling of one product"
      touched={draft.touched}
      busy={save.busy}
      refusal={save.refusal}
      onSave={save.run}
    >
      <p className={css.note}>
        Unpacking, cleaning, placing and centring, in minutes: for the first of a family, and for each that
        follows on the same set.
      </p>
      <FieldTable
        caption="Handling times in minutes, by finish and size"
        columns={[
          { head: 'Finish' },
          ...sizeClasses.flatMap((size) =>
            whichWords.map(([, word]) => ({ head: `${capital(size)}, ${word}`, figure: true, width: 108 })),
          ),
        ]}
      >
        {finishes.map((finish) => (
          <tr key={finish}>
            <th scope="row">{capital(finish)}</th>
            {sizeClasses.flatMap((size) =>
              whichWords.map(([which, word]) => {
                const cell: Cell = `${size} ${finish} ${which}`
                return (
                  <td key={cell}>
                    <MinutesField
                      label={`${capital(finish)}, ${size}, ${word}`}
                      name={`${indexOf(size, finish)}.${which}`}
                      value={draft.values[cell] ?? null}
                      onChange={draft.set(cell)}
                    />
                  </td>
                )
              }),
            )}
          </tr>
        ))}
      </FieldTable>
    </SettingsForm>
  )
}

function typedOf(handling: Handling): Typed {
  return Object.fromEntries(
    handling.flatMap(({ sizeClass, finish, ...times }) =>
      whichWords.map(([which]) => [`${sizeClass} ${finish} ${which}`, times[which]]),
    ),
  )
}

function sentOf(typed: Typed): Asks['pace']['changeHandling'] {
  return sizeClasses.flatMap((sizeClass) =>
    finishes.map((finish) => ({
      sizeClass,
      finish,
      // A time left empty goes as null: the studio answers with the sentence for its field.
      firstMs: typed[`${sizeClass} ${finish} firstMs`] as number,
      followingMs: typed[`${sizeClass} ${finish} followingMs`] as number,
    })),
  )
}

/** Where `sentOf` puts the times of a size and finish. */
function indexOf(size: SizeClass, finish: Finish): number {
  return sizeClasses.indexOf(size) * finishes.length + finishes.indexOf(finish)
}
