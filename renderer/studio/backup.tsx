import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button } from '../parts/button.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { bytesText, instantText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './screen.module.css'

type Backup = Answers['studio']['backups'][number]

/** Copies of the studio's store, and a new one at a press. */
export function BackupSection() {
  const { timeZone } = useStudio()
  const one = useAsk(['studio', 'one'], () => api.studio.one.query())
  const backups = useAsk(['studio', 'backups'], () => api.studio.backups.query())
  const say = useNotice()
  const backUp = useAct(
    () => api.studio.backUp.mutate(),
    ({ name, bytes }: Backup) => say(`${name} is made and checked: ${bytesText(bytes)}.`),
  )
  const columns: readonly Column<Backup>[] = [
    { key: 'name', head: 'File', cell: ({ name }) => <span className={words.mono}>{name}</span> },
    { key: 'at', head: 'Written', cell: ({ at }) => instantText(at, timeZone) },
    { key: 'bytes', head: 'Size', figure: true, cell: ({ bytes }) => bytesText(bytes) },
  ]
  return (
    <Part
      title="Backup"
      acts={
        <Button kind="main" busy={backUp.busy} onClick={() => backUp.run()}>
          Back up now
        </Button>
      }
    >
      <Asked of={one}>
        {({ folder }) => (
          <p className={css.note}>
            A copy of everything you entered, opened and checked after writing, in the folder{' '}
            <span className={words.mono}>backups</span> of <span className={words.mono}>{folder}</span>.
            Papers and pictures lie beside it in <span className={words.mono}>files</span> and are not in the
            copy: to be safe from a broken disk, copy the whole folder to another one.
          </p>
        )}
      </Asked>
      {backUp.refusal ? <FormRefusal sentence={backUp.refusal.sentence} /> : null}
      <Table
        caption="Backups, the newest first"
        columns={columns}
        rows={backups.data}
        keyOf={({ name }) => name}
        empty={<Empty sentence="There is no backup yet. Make the first one now; it takes a few seconds." />}
      />
    </Part>
  )
}
