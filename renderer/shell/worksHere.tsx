import { SelectField } from '../parts/field.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct, useAsk } from './api.ts'
import css from './worksHere.module.css'

/** Everybody who works in the studio, who of them works at this device, and the way to change that. */
function useWorksHere() {
  const people = useAsk(['studio', 'people'], () => api.studio.people.query())
  const say = useNotice()
  const here = (people.data?.people ?? []).filter(({ leftAt }) => leftAt === null)
  const work = useAct(
    (personId: number) => api.studio.workAs.mutate({ personId }),
    (_, personId) => {
      const name = here.find(({ id }) => id === personId)?.name
      say(`${name ?? 'Somebody else'} works here now.`)
    },
  )
  return {
    work,
    chosen: people.data ? String(people.data.worksHere) : '',
    options: here.map(({ id, name }) => ({ value: String(id), label: name })),
  }
}

/** Chooses who works at this device, as a field of a page; the choice counts at once. */
export function WorksHere(props: { readonly hint?: string }) {
  const { work, chosen, options } = useWorksHere()
  return (
    <>
      <SelectField
        label="Who works here"
        hint={props.hint}
        value={chosen}
        options={options}
        onChange={(id) => work.run(Number(id))}
      />
      {work.refusal ? <FormRefusal sentence={work.refusal.sentence} /> : null}
    </>
  )
}

/** The same in the top line: a name, and others to choose where there are any. */
export function WhoChoice({ name }: { readonly name: string }) {
  const { work, chosen, options } = useWorksHere()
  const title = work.refusal?.sentence ?? `${name} works here`
  if (options.length < 2) {
    return (
      <span className={css.who} title={title}>
        {name}
      </span>
    )
  }
  return (
    <select
      className={css.choice}
      aria-label="Who works here"
      title={title}
      value={chosen}
      onChange={(event) => work.run(Number(event.target.value))}
    >
      {options.map(({ value, label }) => (
        <option key={value} value={value}>
          {label}
        </option>
      ))}
    </select>
  )
}
