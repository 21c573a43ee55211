import type { Answers } from '../../main/api/types.ts'
import type { Finish } from '../../main/trade/product.ts'
import { Asked } from '../parts/asked.tsx'
import { useDraft } from '../parts/draft.ts'
import { TextArea } from '../parts/field.tsx'
import { FieldGroup, FieldLine } from '../parts/form.tsx'
import { capital } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import css from './screen.module.css'
import { SettingsForm } from './settingsForm.tsx'

type Lists = Answers['preparation']['lists']
type Cell = `${Finish} before` | `${Finish} after`
type Typed = { readonly [K in Cell]?: string }

/** What is done to a product before its take and once it is off the platter, by its finish. */
export function PreparationSection() {
  const lists = useAsk(['preparation', 'lists'], () => api.preparation.lists.query())
  return (
    <Part title="Preparation">
      <Asked of={lists}>{(data) => <ListsForm lists={data} />}</Asked>
    </Part>
  )
}

function ListsForm({ lists }: { readonly lists: Lists }) {
  const draft = useDraft<Typed>(typedOf(lists))
  const say = useNotice()
  const save = useAct(
    () =>
      api.preparation.change.mutate(
        lists.map(({ finish }) => ({
          finish,
          before: stepsOf(draft.values[`${finish} before`]),
          after: stepsOf(draft.values[`${finish} after`]),
        })),
      ),
    () => {
      draft.reset(draft.values)
      say('Saved. The bench shows these lists from now on.')
    },
  )
  return (
    <SettingsForm
      label="Preparation by finish"
      touched={draft.touched}
      busy={save.busy}
      refusal={save.refusal}
      onSave={save.run}
    >
      <p className={css.note}>
        The bench shows these lists by the finish of what is turned, one step a line: before the take, and
        once the product leaves the platter.
      </p>
      {lists.map(({ finish }, index) => (
        <FieldGroup key={finish} legend={capital(finish)}>
          <FieldLine>
            <TextArea
              label={`Before the take, ${finish}`}
              name={`${index}.before`}
              rows={6}
              value={draft.values[`${finish} before`] ?? ''}
              onChange={draft.set(`${finish} before`)}
            />
            <TextArea
              label={`Putting away, ${finish}`}
              name={`${index}.after`}
              rows={6}
              value={draft.values[`${finish} after`] ?? ''}
              onChange={draft.set(`${finish} after`)}
            />
          </FieldLine>
        </FieldGroup>
      ))}
    </SettingsForm>
  )
}

function typedOf(lists: Lists): Typed {
  return Object.fromEntries(
    lists.flatMap(({ finish, before, after }) => [
      [`${finish} before`, before.join('\n')],
      [`${finish} after`, after.join('\n')],
    ]),
  )
}

function stepsOf(typed = ''): string[] {
  return typed
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean)
}
